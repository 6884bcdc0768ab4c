//! Physical dimensions of numbers a user sees, and their units in SI and US.
//!
//! Values are stored and computed in the SI unit of their dimension; a display unit is
//! a label and a factor, so switching units changes no stored bit.

/// What a number measures. Each has one SI storage unit and one US display unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// A bare number: counts, ratios, factors.
    Number,
    /// A share of one, shown in per cent.
    Share,
    /// Plan and storey dimensions, m.
    Metres,
    /// Section and bar dimensions, mm.
    Millimetres,
    /// Floor areas, m².
    SquareMetres,
    /// Bar areas, mm².
    SquareMillimetres,
    /// Concrete volumes, m³.
    CubicMetres,
    /// Material strengths, MPa.
    Megapascals,
    /// Floor loads and soil pressures, kPa.
    Kilopascals,
    /// Forces, kN.
    Kilonewtons,
    /// Moments, kNm.
    KilonewtonMetres,
    /// Lateral stiffness, kN/m.
    KilonewtonsPerMetre,
    /// Rotational stiffness, kNm/rad.
    KilonewtonMetresPerRadian,
    /// Subgrade modulus, MN/m³.
    MeganewtonsPerCubicMetre,
    /// Unit weight, kN/m³.
    KilonewtonsPerCubicMetre,
    /// Spectral acceleration as a fraction of gravity.
    Gravity,
    /// Periods, s.
    Seconds,
    /// Steel masses, t.
    Tonnes,
    /// Working time of one person, man-days.
    ManDays,
    /// Calendar or working days.
    Days,
    /// A calendar year.
    Year,
}

/// A unit to show numbers in: multiply the stored SI value by `factor`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// The symbol printed after the number; empty for bare numbers.
    pub symbol: &'static str,
    /// Shown value ÷ stored value.
    pub factor: f64,
}

/// The system of units numbers are shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum System {
    /// The international system.
    #[default]
    Si,
    /// US customary units.
    Us,
}

impl Dimension {
    /// The unit this dimension is shown in.
    ///
    /// ```
    /// use sisterframe_core::units::{Dimension, System};
    /// assert_eq!(Dimension::Metres.unit(System::Si).symbol, "m");
    /// assert_eq!(Dimension::Millimetres.unit(System::Us).symbol, "in");
    /// ```
    pub const fn unit(self, system: System) -> Unit {
        const KIP: f64 = 4.448_221_615_260_5;
        const FOOT: f64 = 0.304_8;
        const INCH: f64 = 25.4;
        const KSI: f64 = 6.894_757_293_168;
        let ((si, si_factor), (us, us_factor)) = match self {
            Self::Number => (("", 1.0), ("", 1.0)),
            Self::Share => (("%", 100.0), ("%", 100.0)),
            Self::Metres => (("m", 1.0), ("ft", 1.0 / FOOT)),
            Self::Millimetres => (("mm", 1.0), ("in", 1.0 / INCH)),
            Self::SquareMetres => (("m²", 1.0), ("ft²", 1.0 / (FOOT * FOOT))),
            Self::SquareMillimetres => (("mm²", 1.0), ("in²", 1.0 / (INCH * INCH))),
            Self::CubicMetres => (("m³", 1.0), ("yd³", 1.0 / (27.0 * FOOT * FOOT * FOOT))),
            Self::Megapascals => (("MPa", 1.0), ("ksi", 1.0 / KSI)),
            Self::Kilopascals => (("kPa", 1.0), ("psf", 1000.0 * FOOT * FOOT / (KIP))),
            Self::Kilonewtons => (("kN", 1.0), ("kip", 1.0 / KIP)),
            Self::KilonewtonMetres => (("kNm", 1.0), ("kip·ft", 1.0 / (KIP * FOOT))),
            Self::KilonewtonsPerMetre => (("kN/m", 1.0), ("kip/in", INCH / 1000.0 / KIP)),
            Self::KilonewtonMetresPerRadian => (("kNm/rad", 1.0), ("kip·ft/rad", 1.0 / (KIP * FOOT))),
            Self::MeganewtonsPerCubicMetre => (("MN/m³", 1.0), ("kip/ft³", 1000.0 * FOOT * FOOT * FOOT / KIP)),
            Self::KilonewtonsPerCubicMetre => (("kN/m³", 1.0), ("lb/ft³", 1000.0 * FOOT * FOOT * FOOT / KIP)),
            Self::Gravity => (("g", 1.0), ("g", 1.0)),
            Self::Seconds => (("s", 1.0), ("s", 1.0)),
            Self::Tonnes => (("t", 1.0), ("ton", 1.102_311_310_924_39)),
            Self::ManDays => (("man-days", 1.0), ("man-days", 1.0)),
            Self::Days => (("days", 1.0), ("days", 1.0)),
            Self::Year => (("", 1.0), ("", 1.0)),
        };
        match system {
            System::Si => Unit { symbol: si, factor: si_factor },
            System::Us => Unit { symbol: us, factor: us_factor },
        }
    }
}

/// A number as sheets print it, in display units but without the unit.
///
/// Three significant figures, but no digit before the point is ever rounded away, so that
/// forces printed in a balance add up; thousands parted by a narrow space; a true minus
/// sign. Shares keep one decimal below 10 %. A value that is not finite prints as a dash.
///
/// ```
/// use sisterframe_core::units::{number, Dimension::*, System::Si};
/// assert_eq!(number(16_403.4, Kilonewtons, Si), "16\u{202f}403");
/// assert_eq!(number(-12.34, Kilonewtons, Si), "−12.3");
/// assert_eq!(number(0.0852, Share, Si), "8.5");
/// assert_eq!(number(1.2, Number, Si), "1.20");
/// ```
pub fn number(value: f64, dimension: Dimension, system: System) -> String {
    let shown = value * dimension.unit(system).factor;
    let size = shown.abs();
    let decimals = match dimension {
        Dimension::Year => return format!("{shown:.0}"),
        Dimension::Share | Dimension::ManDays | Dimension::Days => usize::from(size < 9.95 && size > 0.0),
        _ if size >= 99.95 || size == 0.0 => 0,
        _ if size >= 9.995 => 1,
        _ if size >= 0.0995 => 2,
        _ if size < 0.0005 => 0,
        _ => 3,
    };
    grouped(shown, decimals)
}

/// A number with its unit, parted by a space that does not break.
///
/// ```
/// use sisterframe_core::units::{show, Dimension::*, System::*};
/// assert_eq!(show(1640.0, Kilonewtons, Si), "1\u{202f}640\u{a0}kN");
/// assert_eq!(show(1000.0, Kilonewtons, Us), "225\u{a0}kip");
/// assert_eq!(show(0.42, Share, Si), "42\u{a0}%");
/// ```
pub fn show(value: f64, dimension: Dimension, system: System) -> String {
    let number = number(value, dimension, system);
    match dimension.unit(system).symbol {
        "" => number,
        symbol => format!("{number}\u{a0}{symbol}"),
    }
}

/// A number with a fixed count of decimals, thousands parted by a narrow space from 1000
/// on, and a true minus sign; a value that rounds to zero carries none.
pub fn grouped(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let plain = format!("{:.decimals$}", value.abs());
    let (whole, rest) = plain.split_at(plain.find('.').unwrap_or(plain.len()));
    let mut text = String::with_capacity(plain.len() + 8);
    if value < 0.0 && plain.bytes().any(|digit| (b'1'..=b'9').contains(&digit)) {
        text.push('−');
    }
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            text.push('\u{202f}');
        }
        text.push(digit);
    }
    text + rest
}
