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

/// Units a number may be typed in: spellings, the dimension they measure, and the storage
/// units in one of them. Factors are those of NIST SP 811 (2008), appendix B, from the exact
/// foot, inch and pound-force.
const TYPED: &[(&[&str], &[Dimension], f64)] = {
    use Dimension::*;
    const LENGTHS: &[Dimension] = &[Metres, Millimetres];
    const PRESSURES: &[Dimension] = &[Megapascals, Kilopascals];
    const FOOT: f64 = 0.304_8;
    const INCH: f64 = 0.025_4;
    const LBF: f64 = 0.004_448_221_615_260_5;
    const PSI: f64 = LBF / (INCH * INCH);
    &[
        (&["m"], LENGTHS, 1.0),
        (&["cm"], LENGTHS, 0.01),
        (&["mm"], LENGTHS, 0.001),
        (&["ft", "'", "′", "foot", "feet"], LENGTHS, FOOT),
        (&["in", "\"", "″", "''", "inch", "inches"], LENGTHS, INCH),
        (&["kpa", "kn/m²"], PRESSURES, 1.0),
        (&["mpa", "n/mm²"], PRESSURES, 1000.0),
        (&["pa", "n/m²"], PRESSURES, 0.001),
        (&["kgf/cm²", "kg/cm²"], PRESSURES, 98.066_5),
        (&["t/m²", "tf/m²"], PRESSURES, 9.806_65),
        (&["psi"], PRESSURES, PSI),
        (&["ksi"], PRESSURES, 1000.0 * PSI),
        (&["psf", "lb/ft²"], PRESSURES, LBF / (FOOT * FOOT)),
        (&["ksf", "kip/ft²"], PRESSURES, 1000.0 * LBF / (FOOT * FOOT)),
        (&["kn"], &[Kilonewtons], 1.0),
        (&["kip", "kips"], &[Kilonewtons], 1000.0 * LBF),
        (&["lb", "lbf"], &[Kilonewtons], LBF),
        (&["kn/m³"], &[KilonewtonsPerCubicMetre], 1.0),
        (&["pcf", "lb/ft³"], &[KilonewtonsPerCubicMetre], LBF / (FOOT * FOOT * FOOT)),
        (&["mn/m³"], &[MeganewtonsPerCubicMetre], 1.0),
        (&["kn/m³"], &[MeganewtonsPerCubicMetre], 0.001),
        (&["kip/ft³", "kcf"], &[MeganewtonsPerCubicMetre], LBF / (FOOT * FOOT * FOOT)),
        (&["pci", "lb/in³"], &[MeganewtonsPerCubicMetre], 0.001 * LBF / (INCH * INCH * INCH)),
        (&["m²"], &[SquareMetres], 1.0),
        (&["ft²"], &[SquareMetres], FOOT * FOOT),
        (&["mm²"], &[SquareMillimetres], 1.0),
        (&["in²"], &[SquareMillimetres], 1e6 * INCH * INCH),
        (&["g"], &[Gravity], 1.0),
        (&["m/s²"], &[Gravity], 1.0 / 9.806_65),
        (&["s", "sec"], &[Seconds], 1.0),
        (&["ms"], &[Seconds], 0.001),
        (&["%"], &[Share], 0.01),
        (&["t"], &[Tonnes], 1.0),
        (&["kg"], &[Tonnes], 0.001),
        (&["ton", "tons"], &[Tonnes], 0.907_184_74),
        (&["d", "day", "days"], &[Days], 1.0),
    ]
};

/// Nominal bar diameters, mm, of the sizes sold as # 9 to # 18 (ASTM A615 table 1, from
/// memory); those up to # 8 are as many eighths of an inch.
const NUMBERED_BARS: &[(u32, f64)] = &[(9, 28.65), (10, 32.26), (11, 35.81), (14, 43.0), (18, 57.33)];

/// Diameters of the bars sold by number, mm, from # 2 up.
pub fn numbered_bars() -> impl Iterator<Item = f64> {
    (2..=8).map(eighths).chain(NUMBERED_BARS.iter().map(|(_, size)| *size))
}

/// So many eighths of an inch, mm.
fn eighths(count: u32) -> f64 {
    f64::from(count * 3175) / 1000.0
}

/// Why a typed number is none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypedError {
    /// There is no number.
    NoNumber,
    /// The unit after the number does not measure this.
    OtherUnit(String),
}

/// The stored value of a typed number. A unit after it holds whatever the system shown is;
/// without one the number is in the unit shown. Feet and inches may stand together; bars may
/// be named by diameter or number, as D16 and #5.
///
/// A comma is read as the decimal point; digits grouped by commas are no number, since
/// 1,200 may mean either.
///
/// # Errors
/// Where there is no number, or its unit measures something else.
///
/// ```
/// use sisterframe_core::units::{typed, Dimension::*, System::*};
/// assert_eq!(typed("3,5", Metres, Si), Ok(3.5));
/// assert_eq!(typed("16 in", Millimetres, Si), Ok(406.4));
/// assert_eq!(typed("12' 6\"", Metres, Si), Ok(3.81));
/// assert_eq!(typed("D16", Millimetres, Us), Ok(16.0));
/// assert!((typed("2500 psi", Megapascals, Si).unwrap() - 17.237).abs() < 5e-4);
/// assert!(typed("3 kN", Metres, Si).is_err());
/// ```
pub fn typed(text: &str, dimension: Dimension, system: System) -> Result<f64, TypedError> {
    let plain: String = text
        .trim()
        .chars()
        .map(|c| match c {
            ',' => '.',
            '−' => '-',
            '\u{a0}' | '\u{202f}' | '\u{2009}' => ' ',
            other => other,
        })
        .collect();
    if dimension == Dimension::Millimetres
        && let Some(size) = named_bar(&plain)
    {
        return Ok(size);
    }
    let (first, unit) = leading_number(&plain).ok_or(TypedError::NoNumber)?;
    if unit.is_empty() {
        return Ok(first / dimension.unit(system).factor);
    }
    // Feet and inches together.
    if let Some(rest) = ["feet", "foot", "ft", "'", "′"].iter().find_map(|feet| unit.strip_prefix(feet))
        && !rest.starts_with('\'')
        && let Some((inches, unit)) = leading_number(rest.trim_start_matches([' ', '-']))
    {
        let (feet, inches) = (in_unit(first, "ft", dimension)?, in_unit(inches, unit, dimension)?);
        return Ok(feet + if first < 0.0 { -inches } else { inches });
    }
    in_unit(first, unit, dimension)
}

/// A number in a unit, as it is stored.
fn in_unit(number: f64, unit: &str, dimension: Dimension) -> Result<f64, TypedError> {
    let spelled = unit.to_lowercase().replace("^", "").replace(['2'], "²").replace(['3'], "³").replace(' ', "");
    let found = TYPED.iter().find(|(names, of, _)| of.contains(&dimension) && names.contains(&spelled.as_str()));
    let Some((_, of, factor)) = found else { return Err(TypedError::OtherUnit(unit.to_owned())) };
    // The first dimension of a row is the one its factor leads to.
    let base = match (of.first(), dimension) {
        (Some(Dimension::Metres), Dimension::Millimetres) => 1000.0,
        (Some(Dimension::Megapascals), Dimension::Megapascals) => 0.001,
        _ => 1.0,
    };
    let value = number * factor * base;
    // To fifteen figures, so that 16 in are 406.4 mm and not a hair beside it.
    Ok(plain_number(&format!("{value:.14e}")).unwrap_or(value))
}

/// The diameter, mm, of a bar named by its diameter or by its number.
fn named_bar(text: &str) -> Option<f64> {
    let after = |marks: &[char]| text.strip_prefix(marks).map(str::trim_start);
    if let Some(size) = after(&['D', 'd', 'Ø', 'ø', 'φ', 'Φ', '⌀']) {
        return plain_number(size);
    }
    let number: u32 = after(&['#'])?.parse().ok()?;
    match number {
        2..=8 => Some(eighths(number)),
        _ => NUMBERED_BARS.iter().find(|(own, _)| *own == number).map(|(_, size)| *size),
    }
}

/// The number a text begins with, and the rest. Thousands may be parted by spaces.
fn leading_number(text: &str) -> Option<(f64, &str)> {
    let mut end = 0;
    let bytes = text.as_bytes();
    while let Some(byte) = bytes.get(end) {
        let digit_follows = bytes.get(end + 1).is_some_and(u8::is_ascii_digit);
        let in_number = match byte {
            b'0'..=b'9' | b'.' => true,
            b'+' | b'-' => end == 0 || (matches!(bytes[end - 1], b'e' | b'E') && digit_follows),
            b'e' | b'E' => {
                let signed = matches!(bytes.get(end + 1), Some(b'+' | b'-'));
                digit_follows || (signed && bytes.get(end + 2).is_some_and(u8::is_ascii_digit))
            }
            b' ' => {
                let group = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
                end > 0 && (1..=3).all(|next| group(bytes.get(end + next))) && !group(bytes.get(end + 4))
            }
            _ => false,
        };
        if !in_number {
            break;
        }
        end += 1;
    }
    let number = plain_number(&text.get(..end)?.replace(' ', ""))?;
    number.is_finite().then_some((number, text.get(end..)?.trim()))
}

/// Units a number of this dimension may be typed in, in words.
pub fn typed_units(dimension: Dimension) -> String {
    let own = TYPED.iter().filter(|(_, of, _)| of.contains(&dimension)).filter_map(|(names, _, _)| names.first());
    own.map(|name| match *name {
        "kpa" => "kPa",
        "mpa" => "MPa",
        "pa" => "Pa",
        "kn" => "kN",
        "kn/m³" => "kN/m³",
        "mn/m³" => "MN/m³",
        other => other,
    })
    .collect::<Vec<_>>()
    .join(", ")
}

/// The number a plain text such as `-2`, `.5` or `1e3` stands for.
///
/// Read as JSON, like the project file: the standard library's own reader would bring
/// eleven kilobytes of powers of ten into the page.
pub fn plain_number(text: &str) -> Option<f64> {
    let (sign, size) = match text.strip_prefix('-') {
        Some(size) => (-1.0, size),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    // JSON wants a figure on both sides of the point and allows no zeros before the others.
    let (mantissa, exponent) = size.find(['e', 'E']).map_or((size, ""), |at| size.split_at(at));
    let (whole, part) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    if (whole.is_empty() && part.is_empty()) || whole.starts_with('-') {
        return None;
    }
    let whole = whole.trim_start_matches('0');
    let zero = |figures: &str| if figures.is_empty() { "0".to_owned() } else { figures.to_owned() };
    let value: serde_json::Value = serde_json::from_str(&format!("{}.{}{exponent}", zero(whole), zero(part))).ok()?;
    Some(sign * value.as_f64()?)
}

/// A number as sheets print it, in display units but without the unit.
///
/// Three significant figures, but no digit before the point is ever rounded away, so that
/// forces printed in a balance add up, save of stiffnesses, which keep four; thousands parted
/// by a narrow space; a true minus sign. Shares keep one decimal below 10 %. A value that is not finite prints as a dash.
///
/// ```
/// use sisterframe_core::units::{number, Dimension::*, System::Si};
/// assert_eq!(number(16_403.4, Kilonewtons, Si), "16\u{202f}403");
/// assert_eq!(number(-12.34, Kilonewtons, Si), "−12.3");
/// assert_eq!(number(1_234_567.0, KilonewtonsPerMetre, Si), "1\u{202f}235\u{202f}000");
/// assert_eq!(number(0.0852, Share, Si), "8.5");
/// assert_eq!(number(1.2, Number, Si), "1.20");
/// ```
pub fn number(value: f64, dimension: Dimension, system: System) -> String {
    let shown = match dimension {
        Dimension::KilonewtonsPerMetre | Dimension::KilonewtonMetresPerRadian => {
            to_four_digits(value * dimension.unit(system).factor)
        }
        _ => value * dimension.unit(system).factor,
    };
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

/// The digits of a large stiffness beyond its fourth as zeros: no more of it is known.
fn to_four_digits(value: f64) -> f64 {
    if value.abs() < 9_999.5 {
        return value;
    }
    let mut last = 1.0;
    while value.is_finite() && value.abs() / last >= 9_999.5 {
        last *= 10.0;
    }
    (value / last).round() * last
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
