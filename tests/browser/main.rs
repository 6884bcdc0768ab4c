//! The built page in a browser, opened from disk with the network off.
