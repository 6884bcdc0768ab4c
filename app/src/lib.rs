//! The page: sheets, bench, drawings and charts over the core.
