//! Elementary functions that give the same bits natively and in the browser.
//!
//! `sqrt`, `abs`, `min` and `max` are exact in IEEE 754 and come from the standard
//! library; everything transcendental goes through `libm`.

/// Natural exponential.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// `x` raised to the power `p`.
pub fn pow(x: f64, p: f64) -> f64 {
    libm::pow(x, p)
}

/// Sine of an angle in radians.
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle in radians.
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Tangent of an angle in radians.
pub fn tan(x: f64) -> f64 {
    libm::tan(x)
}

/// Arc tangent in radians.
pub fn atan(x: f64) -> f64 {
    libm::atan(x)
}

/// Linear interpolation of `y` at `x` between `(x0, y0)` and `(x1, y1)`, held flat outside.
pub fn lerp_clamped(x: f64, (x0, y0): (f64, f64), (x1, y1): (f64, f64)) -> f64 {
    if x <= x0 {
        y0
    } else if x >= x1 {
        y1
    } else {
        y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    }
}

/// Whole spaces of `spacing` in `length`, with a hair of slack so that a spacing that divides the
/// length exactly is not lost to rounding.
pub fn whole_spaces(length: f64, spacing: f64) -> f64 {
    (length / spacing + 1e-9).floor()
}
