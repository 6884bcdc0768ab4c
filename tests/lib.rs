//! Shared helpers of the test suite.

pub mod approx;
pub mod dice;
pub mod frames;
pub mod members;
pub mod numbers;
pub mod pages;
pub mod projects;
pub mod scenarios;
