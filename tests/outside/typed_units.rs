//! Numbers typed with a unit against published conversion factors.
//!
//! NIST Special Publication 811 (2008), appendix B.9, factors as printed (MEMORY). Bars by
//! number: ASTM A615 table 1, nominal diameters in inches as printed (MEMORY).

use sisterframe_core::units::Dimension::{self, *};
use sisterframe_core::units::{System, TypedError, typed, typed_units};

/// A number typed with a unit, as stored; the system shown must not matter.
fn stored(text: &str, dimension: Dimension) -> f64 {
    let si = typed(text, dimension, System::Si).unwrap_or_else(|error| panic!("{text}: {error:?}"));
    assert_eq!(typed(text, dimension, System::Us), Ok(si), "{text}");
    si
}

#[test]
fn typed_units_are_those_of_nist_sp_811() {
    // Text, dimension, published SI value, stored units in one SI unit.
    let published = [
        ("1 in", Millimetres, 2.54e-2, 1e3),
        ("1 ft", Metres, 3.048e-1, 1.0),
        ("1 ft²", SquareMetres, 9.290_304e-2, 1.0),
        ("1 in2", SquareMillimetres, 6.4516e-4, 1e6),
        ("1 psi", Megapascals, 6.894_757e3, 1e-6),
        ("1 ksi", Megapascals, 6.894_757e6, 1e-6),
        ("1 psf", Kilopascals, 4.788_026e1, 1e-3),
        ("1 kgf/cm2", Megapascals, 9.806_65e4, 1e-6),
        ("1 kip", Kilonewtons, 4.448_222e3, 1e-3),
        ("1 lbf", Kilonewtons, 4.448_222, 1e-3),
        // A mass per volume in the source; its weight with the standard acceleration.
        ("1 pcf", KilonewtonsPerCubicMetre, 1.601_846e1 * 9.806_65, 1e-3),
        ("1 ton", Tonnes, 9.071_847e2, 1e-3),
    ];
    for (text, dimension, value, units) in published {
        let own = stored(text, dimension);
        let wanted = value * units;
        // Half of the last figure printed.
        assert!((own / wanted - 1.0).abs() < 5e-7, "{text}: {own} for {wanted}");
    }
}

#[test]
fn feet_and_inches_stand_together() {
    for (text, metres) in
        [("12' 6\"", 3.81), ("12'-6\"", 3.81), ("12 ft 6 in", 3.81), ("12′", 3.6576), ("-1 ft 6 in", -0.4572)]
    {
        assert!((stored(text, Metres) - metres).abs() < 1e-12, "{text}");
    }
}

#[test]
fn bars_by_number_have_their_nominal_diameters() {
    let inches =
        [(3, 0.375), (4, 0.5), (5, 0.625), (6, 0.75), (7, 0.875), (8, 1.0), (9, 1.128), (10, 1.27), (11, 1.41)];
    for (number, inches) in inches {
        assert!((stored(&format!("#{number}"), Millimetres) - 25.4 * inches).abs() < 0.01, "#{number}");
    }
    assert_eq!(typed("#12", Millimetres, System::Si), Err(TypedError::NoNumber));
}

#[test]
fn a_number_without_a_unit_is_in_the_unit_shown() {
    assert_eq!(typed("4", Megapascals, System::Si), Ok(4.0));
    assert!((typed("4", Megapascals, System::Us).expect("ksi") - 27.579).abs() < 1e-3);
    assert_eq!(typed("7", Share, System::Us), Ok(0.07));
    assert_eq!(typed("1 200 mm", Metres, System::Si), Ok(1.2));
    // A comma may part thousands or decimals; only one of the two is a number here.
    assert_eq!(typed("1,200.5", Metres, System::Si), Err(TypedError::NoNumber));
    assert_eq!(typed("12 6", Metres, System::Si), Err(TypedError::OtherUnit("6".to_owned())));
}

#[test]
fn a_unit_of_something_else_is_refused_by_name() {
    for (text, dimension, unit) in
        [("3 kN", Metres, "kN"), ("3 m", Megapascals, "m"), ("5 mm", Number, "mm"), ("2 bananas", Seconds, "bananas")]
    {
        assert_eq!(typed(text, dimension, System::Si), Err(TypedError::OtherUnit(unit.to_owned())), "{text}");
    }
    assert_eq!(typed_units(Metres), "m, cm, mm, ft, in");
    for text in ["", "m", "--1", "e5", "1e999", "D", "#"] {
        assert_eq!(typed(text, Millimetres, System::Si), Err(TypedError::NoNumber), "{text}");
    }
}
