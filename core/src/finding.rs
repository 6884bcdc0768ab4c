//! Findings: what the engine has to say besides numbers, by code.
//!
//! Engineering trouble is a finding, never an error. Texts live here by code, so that
//! tests assert codes and the page prints words.

use crate::order;
use crate::phrase::Phrase;
use crate::place::Place;
use crate::units::System;
use serde::Serialize;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// To be checked or thought about.
    Watch,
    /// A result is withheld, or something does not work.
    Trouble,
}

/// Declares the catalogue of findings: code, severity, text.
macro_rules! catalogue {
    ($( $(#[$meta:meta])* $code:ident: $severity:ident, $text:literal; )*) => {
        /// What kind of finding it is.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Code { $( #[doc = $text] $code, )* }

        impl Code {
            /// Every code.
            pub const ALL: &'static [Self] = &[ $( Self::$code, )* ];

            /// How much it matters.
            pub const fn severity(self) -> Severity {
                match self { $( Self::$code => Severity::$severity, )* }
            }

            /// Its text; `{}` stands for the detail.
            pub const fn text(self) -> &'static str {
                match self { $( Self::$code => $text, )* }
            }
        }
    };
}

catalogue! {
    CaptiveColumn: Watch, "Sill walls hold the column short: {}";
    ColumnShearGoverned: Watch, "Columns fail in shear before they can bend: {}";
    ColumnOverloaded: Trouble, "The gravity load is more than the column may carry: {}";
    ColumnsFirst: Watch, "Columns carry less than their beams, so that drift gathers in one storey: {}";
    ShearDoubtful: Watch, "Columns bend first, but with the lower strengths shear is checked with they shear first: {}";
    WeakBeams: Note, "Beams yield before columns: {}";
    JointGoverns: Watch, "The beam–column joint is the weakest part: {}";
    SpliceGoverns: Watch, "The lap of the old bars is too short to reach yield: {}";
    SoftStorey: Watch, "Much less stiff than the storey above: {}";
    WeakStorey: Watch, "Weaker than the storey above: {}";
    WeakStoreyMoved: Watch, "The weakest storey is now storey {}; it was another before";
    Eccentric: Watch, "The centre of stiffness lies {} of the plan away from the centre of mass";
    FarSideWorse: Watch, "More shear than in the building as it stands: line {}";
    HeavierByFive: Note, "The added weight is {} of the seismic weight: remember columns and footings";
    HeavierByTen: Watch, "The added weight is {} of the seismic weight: recheck columns, footings and ground";
    SlabShort: Trouble, "The connecting slab cannot carry its force: {}";
    ConnectionShort: Watch, "More is asked of a connection than it can carry: {}";
    AnchorageGoverns: Watch, "Bars bonded into the existing beam are too short to reach yield: {}";
    FootingUplift: Watch, "The footing lifts before what stands on it reaches its strength: {}";
    FootingNotGiven: Watch, "No footing is given, so the ground counts as rigid and only the weight above holds down {}";
    WallStops: Watch, "The wall stops below the top: {}";
    InfillConnectionGoverns: Watch, "The bars round the infill wall limit it: {}";
    EdgeColumnPressed: Watch, "The column at the edge of a wall has more compression than it may carry before the wall has its strength: {}";
    OpeningTooLarge: Trouble, "The opening is too large for a wall, or as high as the beam over it; it is not counted: {}";
    StackedOpenings: Watch, "Openings stand above one another; beams over them that join two walls are not computed, each storey counts as one wall weakened by its opening: {}";
    BeamShearAfterWing: Watch, "A beam beside a wing wall becomes short and shears before it bends: {}";
    BeamsShear: Watch, "Beams shear before both their ends bend: {}";
    BeamGravityShear: Watch, "By the stirrups and concrete given, gravity alone is more than beams carry in shear, so find out what is there: {}";
    ColumnsPressed: Watch, "Pushed over, columns may get more compression from the beams above and gravity than they may carry: {}";
    ColumnsLifted: Watch, "Pushed over, columns may be lifted by more than their bars carry: {}";
    WingBarsNotDeveloped: Note, "Vertical bars of the wing walls are not shown to be developed and do not count in bending";
    BelowUsual: Watch, "Below what is usual for such work: {}";
    JacketUnanchored: Watch, "Hoops of jackets on one or three faces are not anchored in the columns, so these jackets add weight and nothing else: {}";
    JointsAsBuilt: Note, "Beam–column joints stay as built";
    DaylightLost: Note, "Wing and infill walls take daylight and openings: {}";
    GapCloses: Watch, "The gap at the sill closes before the storey reaches its strength: {}";
    LowConcrete: Watch, "Concrete below {} is outside the range of most formulas used here";
    HighConcrete: Watch, "Concrete above {} is outside the range of the formulas used here";
    TypicalNotKnown: Watch, "Values typical of their time stand in a building said to be known better than that; set them to what is known, or choose the lower knowledge: {}";
    LongPlan: Watch, "The plan is more than three times as long as wide: floors may not act as rigid";
    TallBuilding: Watch, "More than eight storeys: a first-mode static method is not enough";
    LongPeriod: Watch, "The period is above one second: higher modes matter";
    LowEffectiveMass: Watch, "One mode does not tell how it moves, the plan turns or higher modes share in it: {}";
    MasonryIgnored: Watch, "Full-height masonry is left out of stiffness and strength, as asked; it still weighs: {}";
    MasonryCounted: Note, "Full-height masonry carries load until its panels crack; whether that helps or harms shows without it: {}";
    MasonryHarms: Watch, "Full-height masonry pushes beside a joint with more than the column carries in shear: {}";
    Unstable: Trouble, "The structure is not stable for lateral load: {}";
    NotInRuleSet: Trouble, "The rule set cannot answer a question of this building: {}";
    RatioOutOfRange: Note, "A ratio outside the formula's range was held at its limit: {}";
    SettlementJoint: Note, "New footings settle against old: cast the connecting slab last, or detail it for that movement";
    StageWeaker: Watch, "Weaker in this stage of the works than as it stands: {}";
    StageMoreEccentric: Watch, "More eccentric in this stage of the works than as it stands: {}";
    StageBearsLess: Watch, "Less of the ground motion is borne in this stage of the works than as it stands: {}";
    WayOutWalled: Watch, "A wall without an opening shuts a way out for good: {}";
    WayOutWorkedIn: Note, "Work stands in a corridor or stair, so another way out must stay open: {}";
    RebuildByCode: Note, "A new building is taken to meet the current code; nothing about it is computed here but weight and works";
}

/// A finding at a place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// What kind it is.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// Where.
    pub place: Place,
    /// What its text is about: members, values.
    pub detail: Phrase,
    /// The text with its detail filled in.
    pub text: Phrase,
}

impl Finding {
    /// A finding with the detail its text asks for.
    pub fn new(code: Code, place: Place, detail: impl Into<Phrase>) -> Self {
        let detail = detail.into();
        Self { code, severity: code.severity(), place, text: filled(code, [&detail]), detail }
    }
}

/// The text of a code with its details in it.
fn filled<'a>(code: Code, details: impl IntoIterator<Item = &'a Phrase>) -> Phrase {
    let (before, after) = code.text().split_once("{}").unwrap_or((code.text(), ""));
    let mut text = Phrase::from(before);
    for (place, detail) in details.into_iter().enumerate() {
        text.extend((place > 0).then(|| Phrase::from("; ")));
        text.extend([detail.clone()]);
    }
    text.and(after)
}

/// Findings in words, the gravest first, those of one kind gathered into a line.
///
/// ```
/// use sisterframe_core::finding::{Code, Finding, in_words};
/// use sisterframe_core::place::Place;
/// use sisterframe_core::units::System;
/// let footing = |line: &str| Finding::new(Code::FootingNotGiven, Place::Footing { line: line.into() }, format!("the wall on line {line}"));
/// let lines = in_words(&[footing("1"), footing("8")], System::Si);
/// assert_eq!(lines.len(), 1);
/// assert!(lines[0].1.ends_with("holds down the wall on line 1; the wall on line 8"));
/// ```
pub fn in_words(findings: &[Finding], system: System) -> Vec<(Severity, String)> {
    let mut kinds: Vec<(Code, Vec<&Phrase>)> = Vec::new();
    for finding in findings {
        match kinds.iter_mut().find(|(code, _)| *code == finding.code) {
            Some((_, details)) if details.contains(&&finding.detail) => {}
            Some((_, details)) => details.push(&finding.detail),
            None => kinds.push((finding.code, vec![&finding.detail])),
        }
    }
    order::sort_by_key(&mut kinds, |(code, _)| std::cmp::Reverse(code.severity()));
    kinds.into_iter().map(|(code, details)| (code.severity(), filled(code, details).in_units(system))).collect()
}

/// The cautions shown on every sheet and written with every export.
pub const CAUTIONS: &[&str] = &[
    "For choosing between options, not for construction: the local code and a licensed engineer decide.",
    "Drawings, concrete strength, bars, corrosion and foundations must be verified on site.",
    "Gravity support and propping during the works must be designed.",
    "Soil, uplift and the settlement of new work against old are not covered beyond what is shown.",
    "Beams, joints, floors as diaphragms and stairs may govern; ceilings, parapets, glazing and services can fall and are not covered.",
    "Survey for asbestos, lead and silica before drilling or breaking out.",
    "Post-installed bars need an approved system, trained installers, inspection and tests; no unassessed sustained tension.",
    "A scheme built in part can be worse than the building as it stands: check every stage.",
    "Work rates are ranges and depend on place and year.",
];
