//! Small linear algebra: dense and banded symmetric matrices, their LDLᵀ factors, and eigenpairs.
//!
//! Everything here is deterministic: fixed loop order, no pivoting that depends on the machine,
//! no kernels chosen at run time. Sizes are those of a building of a dozen floors, so clarity
//! counts for more than blocking.
//!
//! A structure that can move without resisting shows up as a pivot that vanishes in the
//! factorisation. [`NotPositive`] names the row, and the caller turns the row into a place.

use crate::order;

/// The least share of its diagonal that a pivot may keep before the matrix counts as singular.
///
/// A true mechanism leaves rounding noise, about 1e-15 of the diagonal; the stiffest member
/// the engine makes beside the softest leaves some 1e-9.
const LEAST_PIVOT: f64 = 1e-12;

/// A matrix that is not positive definite, found at `row` of the factorisation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotPositive {
    /// Row, counted from zero, whose pivot vanished or turned negative.
    pub row: usize,
}

/// A dense square matrix stored by rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Square {
    size: usize,
    entries: Vec<f64>,
}

impl Square {
    /// The `size` × `size` matrix of zeros.
    pub fn zero(size: usize) -> Self {
        Self { size, entries: vec![0.0; size * size] }
    }

    /// A matrix from its rows; `None` where they are not as long as they are many.
    pub fn from_rows(rows: &[Vec<f64>]) -> Option<Self> {
        if rows.iter().any(|row| row.len() != rows.len()) {
            return None;
        }
        Some(Self { size: rows.len(), entries: rows.concat() })
    }

    /// Number of rows.
    pub fn size(&self) -> usize {
        self.size
    }

    /// The entry at `row`, `column`.
    pub fn at(&self, row: usize, column: usize) -> f64 {
        self.entries[row * self.size + column]
    }

    /// Adds `value` to the entry at `row`, `column` (and to no other).
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        self.entries[row * self.size + column] += value;
    }

    /// One row.
    pub fn row(&self, row: usize) -> &[f64] {
        &self.entries[row * self.size..(row + 1) * self.size]
    }

    /// Whether every entry is a finite number.
    pub fn is_finite(&self) -> bool {
        self.entries.iter().all(|entry| entry.is_finite())
    }

    /// The product with a vector.
    pub fn times(&self, vector: &[f64]) -> Vec<f64> {
        (0..self.size).map(|row| dot(self.row(row), vector)).collect()
    }

    /// Replaces entries (i, j) and (j, i) by their mean, so that rounding leaves no skew part.
    pub fn symmetrise(&mut self) {
        for i in 0..self.size {
            for j in 0..i {
                let mean = 0.5 * (self.at(i, j) + self.at(j, i));
                self.entries[i * self.size + j] = mean;
                self.entries[j * self.size + i] = mean;
            }
        }
    }

    /// LDLᵀ factors of a symmetric positive definite matrix (the lower triangle is read).
    ///
    /// # Errors
    /// [`NotPositive`] at the first pivot that is not positive beyond rounding.
    pub fn factor(&self) -> Result<Factor, NotPositive> {
        let n = self.size;
        let mut lower = self.entries.clone();
        let mut pivots = vec![0.0; n];
        let mut scaled = vec![0.0; n];
        for i in 0..n {
            let (done, rest) = lower.split_at_mut(i * n);
            let row = &mut rest[..n];
            for j in 0..i {
                let above = &done[j * n..j * n + j];
                scaled[j] = row[j] - dot(above, &scaled[..j]);
            }
            let mut pivot = row[i];
            for j in 0..i {
                // `scaled[j]` is L_ij·d_j here, so the next rows can use plain products.
                let entry = scaled[j] / pivots[j];
                pivot -= entry * scaled[j];
                row[j] = entry;
            }
            pivots[i] = accept_pivot(pivot, row[i], i)?;
        }
        Ok(Factor { size: n, lower, pivots })
    }

    /// Eigenvalues and eigenvectors of a symmetric matrix, largest value first.
    ///
    /// Cyclic Jacobi rotations. A coupling below rounding of the two diagonals it joins is left
    /// alone, so that parts of a structure which do not act on each other are never mixed, not
    /// even when their eigenvalues coincide (a building equally stiff along both axes).
    /// Column `k` of the vectors belongs to value `k`; vectors are orthonormal, the entry of
    /// largest magnitude positive.
    ///
    /// Method: Golub and Van Loan, *Matrix Computations*, §8.5 (MEMORY).
    pub fn eigenpairs(&self) -> Vec<Eigenpair> {
        let n = self.size;
        let mut a = self.entries.clone();
        // Row k holds the k-th vector.
        let mut vectors = vec![0.0; n * n];
        for i in 0..n {
            vectors[i * n + i] = 1.0;
        }
        // Convergence is quadratic; a matrix of this size takes six to nine sweeps.
        for _ in 0..60 {
            let mut rotated = false;
            for p in 0..n {
                for q in p + 1..n {
                    let (app, aqq, apq) = (a[p * n + p], a[q * n + q], a[p * n + q]);
                    if apq == 0.0 || apq.abs() <= f64::EPSILON * (app.abs() * aqq.abs()).sqrt() {
                        continue;
                    }
                    rotated = true;
                    rotate(&mut a, &mut vectors, n, p, q);
                }
            }
            if !rotated {
                break;
            }
        }
        let mut pairs: Vec<Eigenpair> = (0..n)
            .map(|k| Eigenpair {
                value: a[k * n + k],
                vector: with_positive_peak(vectors[k * n..(k + 1) * n].to_vec()),
            })
            .collect();
        order::sort_by(&mut pairs, |one, other| other.value.total_cmp(&one.value));
        pairs
    }
}

/// One eigenvalue of a symmetric matrix with its unit vector.
#[derive(Clone, Debug, PartialEq)]
pub struct Eigenpair {
    /// The eigenvalue.
    pub value: f64,
    /// Its eigenvector, of length one.
    pub vector: Vec<f64>,
}

/// One Jacobi rotation that clears entry (p, q) of the symmetric matrix `a`.
fn rotate(a: &mut [f64], vectors: &mut [f64], n: usize, p: usize, q: usize) {
    let (app, aqq, apq) = (a[p * n + p], a[q * n + q], a[p * n + q]);
    let half = (aqq - app) / (2.0 * apq);
    // The smaller of the two roots: rotations below 45° converge.
    let t = if half.is_finite() {
        let root = (half * half + 1.0).sqrt();
        1.0 / if half >= 0.0 { half + root } else { half - root }
    } else {
        0.0
    };
    let c = 1.0 / (t * t + 1.0).sqrt();
    let s = t * c;
    for k in 0..n {
        let (akp, akq) = (a[p * n + k], a[q * n + k]);
        a[p * n + k] = c * akp - s * akq;
        a[q * n + k] = s * akp + c * akq;
        let (vp, vq) = (vectors[p * n + k], vectors[q * n + k]);
        vectors[p * n + k] = c * vp - s * vq;
        vectors[q * n + k] = s * vp + c * vq;
    }
    for k in 0..n {
        if k != p && k != q {
            a[k * n + p] = a[p * n + k];
            a[k * n + q] = a[q * n + k];
        }
    }
    a[p * n + p] = app - t * apq;
    a[q * n + q] = aqq + t * apq;
    a[p * n + q] = 0.0;
    a[q * n + p] = 0.0;
}

fn with_positive_peak(mut vector: Vec<f64>) -> Vec<f64> {
    let mut peak = 0.0_f64;
    for &entry in &vector {
        if entry.abs() > peak.abs() {
            peak = entry;
        }
    }
    if peak < 0.0 {
        for entry in &mut vector {
            *entry = -*entry;
        }
    }
    vector
}

/// LDLᵀ factors of a dense symmetric positive definite matrix.
#[derive(Clone, Debug)]
pub struct Factor {
    size: usize,
    lower: Vec<f64>,
    pivots: Vec<f64>,
}

impl Factor {
    /// The matrix it was made from, L·D·Lᵀ, to rounding.
    pub fn product(&self) -> Square {
        let n = self.size;
        let mut matrix = Square::zero(n);
        let entry = |i: usize, k: usize| if i == k { 1.0 } else { self.lower[i * n + k] };
        for i in 0..n {
            for j in 0..=i {
                let sum: f64 = (0..=j).map(|k| entry(i, k) * self.pivots[k] * entry(j, k)).sum();
                matrix.add(i, j, sum);
                if i != j {
                    matrix.add(j, i, sum);
                }
            }
        }
        matrix
    }

    /// Solves in place for one right-hand side.
    pub fn solve(&self, rhs: &mut [f64]) {
        let n = self.size;
        for i in 0..n {
            rhs[i] -= dot(&self.lower[i * n..i * n + i], &rhs[..i]);
        }
        for (value, pivot) in rhs.iter_mut().zip(&self.pivots) {
            *value /= pivot;
        }
        for i in (0..n).rev() {
            let value = rhs[i];
            for (entry, target) in self.lower[i * n..i * n + i].iter().zip(rhs.iter_mut()) {
                *target -= entry * value;
            }
        }
    }
}

/// A symmetric banded matrix: the lower half of each row, diagonal last.
#[derive(Clone, Debug)]
pub struct Banded {
    size: usize,
    half_width: usize,
    entries: Vec<f64>,
}

impl Banded {
    /// A matrix of zeros with `half_width` places beside the diagonal.
    pub fn zero(size: usize, half_width: usize) -> Self {
        Self { size, half_width, entries: vec![0.0; size * (half_width + 1)] }
    }

    /// Adds `value` to the entry at `row`, `column` of the lower triangle (`column <= row`).
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        let width = self.half_width + 1;
        self.entries[row * width + self.half_width + column - row] += value;
    }

    /// LDLᵀ factors in place.
    ///
    /// # Errors
    /// [`NotPositive`] at the first pivot that is not positive beyond rounding.
    pub fn factor(mut self) -> Result<BandedFactor, NotPositive> {
        let half = self.half_width;
        let width = half + 1;
        let mut pivots = vec![0.0; self.size];
        let mut scaled = vec![0.0; width];
        for i in 0..self.size {
            let first = i.saturating_sub(half);
            let (done, rest) = self.entries.split_at_mut(i * width);
            // Places of columns first..=i in this row.
            let row = &mut rest[half + first - i..width];
            for j in first..i {
                let start = first.max(j.saturating_sub(half));
                let above = &done[j * width + half + start - j..j * width + half];
                let own = &scaled[start - first..j - first];
                scaled[j - first] = row[j - first] - dot(above, own);
            }
            let diagonal = row[i - first];
            let mut pivot = diagonal;
            for j in first..i {
                let entry = scaled[j - first] / pivots[j];
                pivot -= entry * scaled[j - first];
                row[j - first] = entry;
            }
            pivots[i] = accept_pivot(pivot, diagonal, i)?;
        }
        Ok(BandedFactor { lower: self, pivots })
    }
}

/// LDLᵀ factors of a banded symmetric positive definite matrix.
#[derive(Clone, Debug)]
pub struct BandedFactor {
    lower: Banded,
    pivots: Vec<f64>,
}

impl BandedFactor {
    /// Solves in place for one right-hand side.
    pub fn solve(&self, rhs: &mut [f64]) {
        let half = self.lower.half_width;
        let width = half + 1;
        let row = |i: usize| {
            let first = i.saturating_sub(half);
            let start = i * width + half + first - i;
            (first, &self.lower.entries[start..i * width + half])
        };
        for i in 0..self.lower.size {
            let (first, entries) = row(i);
            rhs[i] -= dot(entries, &rhs[first..i]);
        }
        for (value, pivot) in rhs.iter_mut().zip(&self.pivots) {
            *value /= pivot;
        }
        for i in (0..self.lower.size).rev() {
            let (first, entries) = row(i);
            let value = rhs[i];
            for (entry, target) in entries.iter().zip(rhs[first..i].iter_mut()) {
                *target -= entry * value;
            }
        }
    }
}

fn accept_pivot(pivot: f64, diagonal: f64, row: usize) -> Result<f64, NotPositive> {
    // Written so that NaN is refused too.
    if pivot > LEAST_PIVOT * diagonal.abs() && pivot.is_finite() { Ok(pivot) } else { Err(NotPositive { row }) }
}

/// Scalar product, in order.
pub fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}
