//! Constants of the clauses with where they come from and how sure that is.

/// How a figure came here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Read in the document itself or in a published text quoting it.
    Seen,
    /// Read only in independent listings or summaries by third parties.
    SeenListed,
    /// From memory of the clause: verify against the document.
    Memory,
    /// Worked out here.
    Derived,
}

impl Mark {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Seen => "read in a published text",
            Self::SeenListed => "read in listings by third parties, verify",
            Self::Memory => "from memory, verify",
            Self::Derived => "worked out here",
        }
    }
}

/// A constant a user relies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClauseConstant {
    /// Stable key.
    pub key: &'static str,
    /// Document and clause.
    pub clause: &'static str,
    /// The value as the source here writes it.
    pub value: &'static str,
    /// How sure.
    pub mark: Mark,
}

macro_rules! mark_words {
    (Seen) => {
        "SEEN: read in a published text"
    };
    (SeenListed) => {
        "SEEN in listings by third parties, verify"
    };
    (Memory) => {
        "MEMORY: from memory, verify"
    };
    (Derived) => {
        "DERIVED"
    };
}

/// Declares constants and the list of them at once, so that the list cannot fall behind.
macro_rules! clause_constants {
    ($list:ident; $( $(#[doc = $doc:literal])* $name:ident: $kind:ty = $value:expr, $mark:ident, $clause:literal; )*) => {
        $(
            $(#[doc = $doc])*
            #[doc = ""]
            #[doc = concat!("Source: ", $clause, " (", $crate::rules::source::mark_words!($mark), ").")]
            pub const $name: $kind = $value;
        )*
        /// The constants above.
        pub const $list: &[$crate::rules::source::ClauseConstant] = &[ $(
            $crate::rules::source::ClauseConstant {
                key: stringify!($name),
                clause: $clause,
                value: stringify!($value),
                mark: $crate::rules::source::Mark::$mark,
            },
        )* ];
    };
}

pub(crate) use {clause_constants, mark_words};
