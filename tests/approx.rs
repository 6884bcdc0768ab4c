//! Comparison within a relative tolerance.

/// Whether `actual` is within `tolerance` of `expected`, relative to the larger of the two.
pub fn is_near(actual: f64, expected: f64, tolerance: f64) -> bool {
    (actual - expected).abs() <= tolerance * actual.abs().max(expected.abs())
}

/// Fails unless `actual` is within `tolerance` of `expected`, relative to the larger of the two.
///
/// `what` says which figure it is.
#[track_caller]
pub fn assert_near(what: &str, actual: f64, expected: f64, tolerance: f64) {
    assert!(is_near(actual, expected, tolerance), "{what}: got {actual}, expected {expected} within {tolerance}");
}

/// [`assert_near`] for every entry of two lists of the same length, relative to the largest
/// magnitude in them.
#[track_caller]
pub fn assert_all_near(what: &str, actual: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(actual.len(), expected.len(), "{what}: got {actual:?}, expected {expected:?}");
    let peak = actual.iter().chain(expected).fold(0.0_f64, |peak, value| peak.max(value.abs()));
    for (one, other) in actual.iter().zip(expected) {
        let near = (one - other).abs() <= tolerance * peak;
        assert!(near, "{what}: got {actual:?}, expected {expected:?} within {tolerance}");
    }
}
