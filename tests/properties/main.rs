//! What must hold for every project the reader accepts, on random ones (method: whole evaluations
//! through the public file format; a failing check names its seed).

use sisterframe_core::evaluate::{outline, study};
use sisterframe_core::project::Project;
use sisterframe_core::study::Study;
use sisterframe_tests::projects;
use std::sync::{Arc, LazyLock, OnceLock};

mod balance;
mod connections;
mod images;
mod order;
mod programmes;
mod soundness;

/// Projects each property is tried on, unless `SISTERFRAME_SEEDS` asks for more.
const SEEDS: u64 = 100;

/// Projects each property is tried on.
fn seeds() -> u64 {
    std::env::var("SISTERFRAME_SEEDS").ok().and_then(|count| count.parse().ok()).unwrap_or(SEEDS)
}

/// Of so many projects one is pushed over; that costs a hundred times what the rest does.
const PUSHED: u64 = 10;

/// The study of a project, of every tenth with its capacity curves.
fn evaluated(seed: u64, project: &Project) -> Study {
    if seed.is_multiple_of(PUSHED) { study(project) } else { outline(project) }
}

/// The study of the project drawn for a seed: evaluated once and kept for all properties, of the
/// seeds that are usual.
fn studied(seed: u64) -> Arc<Study> {
    static KEPT: LazyLock<Vec<OnceLock<Arc<Study>>>> =
        LazyLock::new(|| (0..2 * SEEDS).map(|_| OnceLock::new()).collect());
    let fresh = || Arc::new(evaluated(seed, &projects::project(seed)));
    match usize::try_from(seed).ok().and_then(|place| KEPT.get(place)) {
        Some(kept) => Arc::clone(kept.get_or_init(fresh)),
        None => fresh(),
    }
}
