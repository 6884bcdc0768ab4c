//! Builds, packs, opens and tests the tool.

fn main() {}
