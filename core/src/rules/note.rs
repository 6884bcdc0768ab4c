//! Remarks a formula makes about its own range, as codes.

/// Declares the remarks once: variant, code, words.
macro_rules! notes {
    ($( $variant:ident = $code:literal, $words:literal; )*) => {
        /// A remark beside a strength or a limit.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Note { $( #[doc = $words] $variant, )* }

        impl Note {
            /// Every remark.
            pub const ALL: &'static [Self] = &[ $( Self::$variant, )* ];

            /// Its code, stable across releases.
            pub const fn code(self) -> &'static str {
                match self { $( Self::$variant => $code, )* }
            }

            /// In words.
            pub const fn words(self) -> &'static str {
                match self { $( Self::$variant => $words, )* }
            }
        }
    };
}

notes! {
    ShearSpanHeld = "shear_span_held", "the shear-span ratio is outside the formula's range and was held at its limit";
    HoopsTooFarApart = "hoops_too_far_apart", "hoops are so far apart that only part of them, or none, counts in shear";
    HoopRatioHeld = "hoop_ratio_held", "the hoop ratio was held at the formula's limit";
    HoopRatioTooSmall = "hoop_ratio_too_small", "the hoop ratio is below the formula's range: no plastic rotation is counted";
    HooksOpen = "hooks_open", "hoops with 90° hooks count only up to a limit";
    AxialRatioHigh = "axial_ratio_high", "the axial load is so high that the rotation falls off";
    ForceControlled = "force_controlled", "the axial load is too high for any plastic deformation to be counted";
    ConcreteBelowRange = "concrete_below_range", "the concrete is weaker than the clause provides for";
    ConcreteAboveRange = "concrete_above_range", "the concrete is stronger than the clause provides for; its root is held";
    CapGoverns = "cap_governs", "the upper bound governs";
    AnchorageGoverns = "anchorage_governs", "the bars are too short to reach yield; their stress is reduced in proportion";
    AnchorageTooShort = "anchorage_too_short", "the bars are too short to count at all";
    BreakoutGoverns = "breakout_governs", "a cone of concrete breaks out before the bars reach the stress their length allows";
    BreakoutOutOfRange = "breakout_out_of_range", "the concrete is weaker than the breakout formula is made for: its figure is only an upper bound";
    BreakoutNotCovered = "breakout_not_covered", "breakout of the group is not checked by this rule set here";
    ClampingLost = "clamping_lost", "tension takes all the clamping: the interface carries no shear";
    WeakerSteelCounts = "weaker_steel_counts", "only the lesser of the steel in the two directions counts in a squat panel";
    NetTension = "net_tension", "net tension lowers what the concrete carries";
    StirrupsPartlyCounted = "stirrups_partly_counted", "stirrups spaced wider than half the depth count half, wider than the depth not at all";
    Borrowed = "borrowed", "the figure comes from another document than the rule set's own";
    PeakFactor = "peak_factor", "shear along the joint cannot even out: its peak is taken";
}

/// A set of remarks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Notes(u32);

impl Notes {
    /// No remark.
    pub const NONE: Self = Self(0);

    /// Adds one.
    pub fn add(&mut self, note: Note) {
        self.0 |= 1 << note as u32;
    }

    /// Adds one where a condition holds.
    pub fn add_if(&mut self, condition: bool, note: Note) {
        if condition {
            self.add(note);
        }
    }

    /// Adds all of another set.
    pub fn merge(&mut self, other: Self) {
        self.0 |= other.0;
    }

    /// Whether a remark is made.
    pub fn has(self, note: Note) -> bool {
        self.0 & (1 << note as u32) != 0
    }

    /// The remarks, in the order of [`Note::ALL`].
    pub fn iter(self) -> impl Iterator<Item = Note> {
        Note::ALL.iter().copied().filter(move |note| self.has(*note))
    }
}
