//! Factors and eigenpairs against what defines them.

use sisterframe_core::linear::{Banded, NotPositive, Square, dot};
use sisterframe_tests::approx::{assert_all_near, assert_near};
use sisterframe_tests::dice::Dice;

/// A symmetric matrix, positive definite by its heavy diagonal, zero outside the band.
fn random(dice: &mut Dice, size: usize, half_width: usize) -> Square {
    let mut matrix = Square::zero(size);
    for i in 0..size {
        matrix.add(i, i, dice.within(2.0, 3.0) * (half_width + 1) as f64);
        for j in i.saturating_sub(half_width)..i {
            let value = dice.within(-1.0, 1.0);
            matrix.add(i, j, value);
            matrix.add(j, i, value);
        }
    }
    matrix
}

#[test]
fn factors_solve_what_they_factor() {
    for seed in 0..60 {
        let mut dice = Dice::new(seed);
        let size = dice.whole(1, 40);
        let half_width = dice.whole(0, size - 1);
        let matrix = random(&mut dice, size, half_width);
        let solution: Vec<f64> = (0..size).map(|_| dice.within(-5.0, 5.0)).collect();
        let rhs = matrix.times(&solution);

        let mut dense = rhs.clone();
        matrix.factor().expect("positive definite").solve(&mut dense);
        assert_all_near("dense", &dense, &solution, 1e-12);

        let mut band = Banded::zero(size, half_width);
        for i in 0..size {
            for j in i.saturating_sub(half_width)..=i {
                band.add(i, j, matrix.at(i, j));
            }
        }
        let mut banded = rhs;
        band.factor().expect("positive definite").solve(&mut banded);
        assert_all_near("banded", &banded, &solution, 1e-12);
    }
}

#[test]
fn eigenpairs_rebuild_their_matrix() {
    for seed in 0..30 {
        let mut dice = Dice::new(seed);
        let size = dice.whole(1, 24);
        let matrix = random(&mut dice, size, size - 1);
        let pairs = matrix.eigenpairs();
        assert!(pairs.windows(2).all(|pair| pair[0].value >= pair[1].value));
        for (k, pair) in pairs.iter().enumerate() {
            let expected: Vec<f64> = pair.vector.iter().map(|entry| entry * pair.value).collect();
            assert_all_near("A·φ", &matrix.times(&pair.vector), &expected, 1e-11);
            for other in &pairs[..k] {
                assert!(dot(&pair.vector, &other.vector).abs() < 1e-12);
            }
            assert_near("|φ|", dot(&pair.vector, &pair.vector), 1.0, 1e-12);
        }
    }
}

/// A singular matrix, an indefinite one and one with a NaN are refused, never solved.
#[test]
fn what_is_not_positive_definite_is_refused() {
    let of = |rows: [[f64; 2]; 2]| Square::from_rows(&rows.map(|row| row.to_vec())).expect("square");
    let refused = |matrix: &Square| matrix.factor().map(|_| ()).unwrap_err();
    assert_eq!(refused(&of([[1.0, 1.0], [1.0, 1.0]])), NotPositive { row: 1 });
    assert_eq!(refused(&of([[1.0, 2.0], [2.0, 1.0]])), NotPositive { row: 1 });
    assert_eq!(refused(&of([[0.0, 0.0], [0.0, 1.0]])), NotPositive { row: 0 });
    assert_eq!(refused(&of([[1.0, 0.0], [0.0, f64::NAN]])), NotPositive { row: 1 });
    let mut band = Banded::zero(2, 1);
    for (row, column) in [(0, 0), (1, 0), (1, 1)] {
        band.add(row, column, 1.0);
    }
    assert_eq!(band.factor().map(|_| ()).unwrap_err(), NotPositive { row: 1 });
    assert_eq!(Square::from_rows(&[vec![1.0, 2.0]]), None);
}
