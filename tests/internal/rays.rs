//! Ways on from a point of a path, by trying everything.

/// Most modes at their envelopes of which every set is tried.
pub const MOST: usize = 9;

/// A mode at its envelope in a sense.
#[derive(Clone, Copy, Debug)]
pub struct Critical {
    pub mode: usize,
    /// One towards positive deformation, minus one towards negative.
    pub sign: f64,
    /// Slope of the piece of its envelope it would follow.
    pub slope: f64,
}

/// A way on.
#[derive(Clone, Debug)]
pub struct Way {
    /// Modes that deform on it.
    pub modes: Vec<usize>,
    /// Whether the load rises on it.
    pub rises: bool,
}

/// Ways on from a point: every set of modes at their envelopes is tried as the set that goes on
/// deforming, with the load rising and falling. `influence` is what a unit of deformation of a mode
/// takes from all of them; `None` where there are too many sets.
pub fn ways_on(critical: &[Critical], influence: impl Fn(usize) -> Vec<f64>, per_load: &[f64]) -> Option<Vec<Way>> {
    if critical.len() > MOST {
        return None;
    }
    let columns: Vec<Vec<f64>> = critical.iter().map(|own| influence(own.mode)).collect();
    let entry = |i: usize, j: usize| {
        let (one, other) = (&critical[i], &critical[j]);
        one.sign * other.sign * columns[j][one.mode] + if i == j { one.slope } else { 0.0 }
    };
    let mut ways = Vec::new();
    for set in 1_usize..1 << critical.len() {
        let own: Vec<usize> = (0..critical.len()).filter(|i| set >> i & 1 == 1).collect();
        let n = own.len();
        // Gauss elimination with row exchanges for M·γ̇ = v.
        let mut work: Vec<Vec<f64>> = own
            .iter()
            .map(|&i| {
                let mut row: Vec<f64> = own.iter().map(|&j| entry(i, j)).collect();
                row.push(critical[i].sign * per_load[critical[i].mode]);
                row
            })
            .collect();
        for c in 0..n {
            let best = (c..n).max_by(|a, b| work[*a][c].abs().total_cmp(&work[*b][c].abs())).expect("one");
            work.swap(c, best);
            for r in (0..n).filter(|r| *r != c) {
                let factor = work[r][c] / work[c][c];
                let top = work[c].clone();
                for (entry, above) in work[r].iter_mut().zip(top).skip(c) {
                    *entry -= factor * above;
                }
            }
        }
        let unit: Vec<f64> = (0..n).map(|c| work[c][n] / work[c][c]).collect();
        for load in [1.0, -1.0] {
            let grows = unit.iter().all(|rate| rate * load >= -1e-12);
            let stays = (0..critical.len()).filter(|i| !own.contains(i)).all(|i| {
                let Critical { mode, sign, .. } = critical[i];
                let held: f64 = own.iter().zip(&unit).map(|(&j, rate)| entry(i, j) * rate * load).sum();
                held - sign * per_load[mode] * load >= -1e-9 * per_load[mode].abs()
            });
            if grows && stays {
                let modes = own.iter().map(|&i| critical[i].mode).collect();
                ways.push(Way { modes, rises: load > 0.0 });
            }
        }
    }
    Some(ways)
}
