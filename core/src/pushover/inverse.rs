//! The inverse of a small symmetric matrix that gains and loses rows.

/// Inverse of a symmetric matrix, kept up to date as rows come and go.
///
/// Rows stand a fixed stride apart, so that nothing moves when one is added.
#[derive(Clone, Debug, Default)]
pub(super) struct Inverse {
    size: usize,
    stride: usize,
    entries: Vec<f64>,
}

impl Inverse {
    /// By Gauss–Jordan with row exchanges, from the entries of the matrix.
    pub(super) fn of(size: usize, entry: impl Fn(usize, usize) -> f64) -> Self {
        let n = size;
        let mut work: Vec<f64> = (0..n * n).map(|at| entry(at / n, at % n)).collect();
        let mut inverse = vec![0.0; n * n];
        for i in 0..n {
            inverse[i * n + i] = 1.0;
        }
        for column in 0..n {
            let mut pivot = column;
            for row in column + 1..n {
                if work[row * n + column].abs() > work[pivot * n + column].abs() {
                    pivot = row;
                }
            }
            if pivot != column {
                for j in 0..n {
                    work.swap(pivot * n + j, column * n + j);
                    inverse.swap(pivot * n + j, column * n + j);
                }
            }
            let mut top = work[column * n + column];
            if top == 0.0 {
                // An exact mechanism without hardening: a hair keeps it solvable.
                top = f64::EPSILON;
                work[column * n + column] = top;
            }
            for j in 0..n {
                work[column * n + j] /= top;
                inverse[column * n + j] /= top;
            }
            for row in (0..n).filter(|row| *row != column) {
                let factor = work[row * n + column];
                if factor != 0.0 {
                    for j in 0..n {
                        work[row * n + j] -= factor * work[column * n + j];
                        inverse[row * n + j] -= factor * inverse[column * n + j];
                    }
                }
            }
        }
        Self { size: n, stride: n, entries: inverse }
    }

    fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.entries.chunks_exact(self.stride.max(1)).take(self.size).map(|row| &row[..self.size])
    }

    /// The inverse times a vector. Symmetric, so rows serve as columns; sums of rows go faster than
    /// scalar products.
    pub(super) fn times(&self, vector: &[f64]) -> Vec<f64> {
        let mut result = vec![0.0; self.size];
        for (row, factor) in self.rows().zip(vector) {
            for (sum, entry) in result.iter_mut().zip(row) {
                *sum += entry * factor;
            }
        }
        result
    }

    /// One row.
    pub(super) fn row(&self, k: usize) -> &[f64] {
        &self.entries[k * self.stride..k * self.stride + self.size]
    }

    /// Takes row and column `k` out of the matrix; returns what stood there without its diagonal, and
    /// the diagonal.
    pub(super) fn drop_row(&mut self, k: usize) -> (Vec<f64>, f64) {
        let (n, stride) = (self.size, self.stride);
        let pivot = self.entries[k * stride + k];
        let mut row: Vec<f64> = self.entries[k * stride..k * stride + n].to_vec();
        row.remove(k);
        for i in (0..n).filter(|i| *i != k) {
            let from = i * stride;
            let to = if i < k { from } else { from - stride };
            let factor = self.entries[from + k] / pivot;
            self.entries.copy_within(from..from + k, to);
            self.entries.copy_within(from + k + 1..from + n, to + k);
            for (entry, other) in self.entries[to..to + n - 1].iter_mut().zip(&row) {
                *entry -= factor * other;
            }
        }
        self.size = n - 1;
        (row, pivot)
    }

    /// Adds a row and column to the matrix, with `solved` the inverse times the new column and `own`
    /// the Schur complement.
    pub(super) fn add_row(&mut self, solved: &[f64], own: f64) {
        let n = self.size;
        if n == self.stride {
            let stride = (2 * n).max(16);
            let mut entries = vec![0.0; stride * stride];
            for (to, from) in entries.chunks_exact_mut(stride).zip(self.rows()) {
                to[..n].copy_from_slice(from);
            }
            (self.entries, self.stride) = (entries, stride);
        }
        for (row, value) in self.entries.chunks_exact_mut(self.stride).zip(solved) {
            let factor = value / own;
            for (entry, other) in row[..n].iter_mut().zip(solved) {
                *entry += factor * other;
            }
            row[n] = -factor;
        }
        let last = &mut self.entries[n * self.stride..n * self.stride + n + 1];
        for (entry, value) in last.iter_mut().zip(solved) {
            *entry = -value / own;
        }
        last[n] = 1.0 / own;
        self.size = n + 1;
    }
}
