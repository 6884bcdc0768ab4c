//! What must hold for every project the reader accepts, on random ones (method: whole evaluations
//! through the public file format; a failing check names its seed).

mod balance;
mod images;
mod order;
mod soundness;

/// Projects each property is tried on, unless `SISTERFRAME_SEEDS` asks for more.
const SEEDS: u64 = 100;

/// Projects each property is tried on.
fn seeds() -> u64 {
    std::env::var("SISTERFRAME_SEEDS").ok().and_then(|count| count.parse().ok()).unwrap_or(SEEDS)
}
