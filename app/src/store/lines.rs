//! Which grid lines a field takes, by its key.

use sisterframe_core::project::{GridLine, Project};

/// Which grid lines a field takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lines {
    /// Lines across x.
    AcrossX,
    /// Lines across y.
    AcrossY,
    /// All of both.
    All,
    /// The outer ones of both.
    Outer,
}

/// Which grid lines a field takes, by its key; `None` if it takes none.
pub fn lines_of(key: &str) -> Option<Lines> {
    match key {
        "x" => Some(Lines::AcrossX),
        "y" => Some(Lines::AcrossY),
        "line" | "lines" => Some(Lines::All),
        "face" => Some(Lines::Outer),
        _ => None,
    }
}

impl Lines {
    /// Their names in a project.
    pub fn names(self, project: &Project) -> Vec<String> {
        let (x, y) = (&project.building.x_lines, &project.building.y_lines);
        let lines: Vec<&GridLine> = match self {
            Self::AcrossX => x.iter().collect(),
            Self::AcrossY => y.iter().collect(),
            Self::All => y.iter().chain(x).collect(),
            Self::Outer => [y.first(), y.last(), x.first(), x.last()].into_iter().flatten().collect(),
        };
        lines.into_iter().map(|line| line.name.clone()).collect()
    }
}
