//! Rates of work: what a gang does in a working day of eight hours, and what waits.
//!
//! Each rate has a slow, a usual and a fast value and a mark that says where it comes
//! from. Slow suits an occupied, cramped block and many short visits; fast suits an empty
//! one and repeated bays.

use crate::study::Band;
use crate::units::Dimension;

/// Where a figure comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Read in the source named beside it, or worked out from a figure read there.
    Seen,
    /// A published figure that was recalled, not read again.
    Memory,
    /// The judgement of the trade.
    CommonPractice,
    /// The project's own.
    Own,
}

impl Mark {
    /// In words.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Seen => "published source",
            Self::Memory => "published figure, from memory",
            Self::CommonPractice => "common practice, no source",
            Self::Own => "your own",
        }
    }
}

/// A rate per crew and working day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Slow work.
    pub slow: f64,
    /// Usual work.
    pub usual: f64,
    /// Fast work.
    pub fast: f64,
}

impl Rate {
    /// Days one crew needs for a quantity; fast work gives the low value.
    pub fn crew_days(self, quantity: f64) -> Band {
        Band { low: quantity / self.fast, mid: quantity / self.usual, high: quantity / self.slow }
    }
}

/// An activity of the works.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Activity {
    /// Its code.
    pub code: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Unit of its quantity.
    pub unit: &'static str,
    /// Units a crew does in a working day.
    pub rate: Rate,
    /// People in the crew.
    pub crew: f64,
    /// How far it is heard: 0 not at all, 1 in the room, 2 next door, 3 through the
    /// structure in most of the block.
    pub noise: u8,
    /// Whether it can be done from outside the building.
    pub from_outside: bool,
    /// Where the rate comes from.
    pub mark: Mark,
    /// The source, or what to keep in mind.
    pub note: &'static str,
}

impl Activity {
    /// What its quantity measures.
    pub fn dimension(&self) -> Dimension {
        dimension_of(self.unit)
    }
}

/// What a unit of the table measures; pieces are bare numbers.
pub fn dimension_of(unit: &str) -> Dimension {
    match unit {
        "m" => Dimension::Metres,
        "m²" => Dimension::SquareMetres,
        "m³" => Dimension::CubicMetres,
        "t" => Dimension::Tonnes,
        _ => Dimension::Number,
    }
}

/// Declares the table of activities once: the enum that names them and their figures.
macro_rules! activities {
    ($(
        $variant:ident = $code:literal $name:literal, $unit:literal,
        $slow:literal $usual:literal $fast:literal, $crew:literal $noise:literal $outside:literal
        $mark:ident $note:literal;
    )*) => {
        /// An activity of the table of rates.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Task { $( #[doc = $name] $variant, )* }

        impl Task {
            /// Every activity, in the order of the works.
            pub const ALL: &'static [Self] = &[ $( Self::$variant, )* ];

            /// Its row of the table.
            pub const fn activity(self) -> &'static Activity {
                match self { $( Self::$variant => &const { Activity {
                    code: $code,
                    name: $name,
                    unit: $unit,
                    rate: Rate { slow: $slow, usual: $usual, fast: $fast },
                    crew: $crew,
                    noise: $noise,
                    from_outside: $outside,
                    mark: Mark::$mark,
                    note: $note,
                } }, )* }
            }

            /// The activity of a code.
            pub fn by_code(code: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|task| task.activity().code == code)
            }
        }
    };
}

// Columns: code and name, unit, slow usual fast per crew-day, crew, closes, noise, can be
// done from outside, mark and note.
activities! {
    MoveOut = "PREP_MOVE" "Clear a room of furniture and equipment", "room",
        2.0 3.0 5.0, 3.0 0 false CommonPractice "often done by the owner";
    Protect = "PREP_PROT" "Screen off dust, cover floor and ceiling", "m²",
        60.0 100.0 160.0, 2.0 1 false CommonPractice "clinics: the slow rate or half of it";
    Survey = "PREP_SCAN" "Set out, find bars, mark holes", "member",
        5.0 9.0 15.0, 2.0 0 true CommonPractice "";
    CutServices = "PREP_SERV" "Disconnect or move services", "point",
        6.0 10.0 16.0, 2.0 1 false CommonPractice "";
    StripPlaster = "STRIP_PLAST" "Take plaster, tiles and paint off to the concrete", "m²",
        15.0 25.0 40.0, 2.0 2 true CommonPractice "survey for asbestos and lead first; slow for tiles";
    TakeOutWindow = "STRIP_WIN" "Take out a window with its frame", "window",
        4.0 6.0 8.0, 2.0 1 true Seen
        "New Zealand estimating norms: 2.20 man-hours for a 2.4 × 0.9 m steel window, slowed for boarding up";
    TakeDownCeiling = "STRIP_CEIL" "Take down ceiling and lights along the work", "m²",
        30.0 50.0 80.0, 2.0 1 false CommonPractice "";
    BreakMasonry = "STRIP_MAS" "Break out masonry and carry it away", "m²",
        8.0 15.0 25.0, 3.0 3 true Seen
        "planners' wiki on breaking out: 2.4, 1.8 and 1.3 h/m³ of brickwork, halved for carrying rubble out of a block in use";
    Prop = "SHORE" "Prop beams and slabs beside the member", "prop",
        20.0 30.0 45.0, 2.0 1 false CommonPractice "down to the ground where gravity load is relieved";
    Roughen = "ROUGH" "Roughen old concrete and clean it", "m²",
        8.0 14.0 20.0, 2.0 3 true CommonPractice "blasting is faster but wet or dusty";
    BondBars = "DRILL" "Drill, clean and bond bars", "bar",
        30.0 60.0 100.0, 2.0 3 true CommonPractice
        "bars of 12 to 20 mm, 100 to 300 mm deep; a bench trial reaches about 200 a day per worker, not for planning";
    BondBarsQuietly = "DRILL_QUIET" "Drill wet with diamond, clean and bond bars", "bar",
        20.0 35.0 60.0, 2.0 1 true CommonPractice "the adhesive must be approved for smooth holes; cuts bars nobody looked for";
    CoreSlab = "CORE_SLAB" "Core the slab for bars that pass through", "hole",
        12.0 20.0 35.0, 2.0 2 false CommonPractice "closes the room above and the room below";
    SawCut = "SAWCUT" "Saw or chase a slab or wall edge", "m",
        8.0 15.0 25.0, 2.0 3 true CommonPractice "";
    FixJacketBars = "RB_JACKET" "Fix the cage of a column jacket", "t",
        0.15 0.3 0.5, 3.0 1 false Seen
        "estimating lecture, Malaysia 2024: 35 h/t in columns, 60 to 90 h/t for links; 1.4 times that in confined work";
    FixWallBars = "RB_WALL" "Fix the mesh of a wall or wing wall", "t",
        0.25 0.45 0.7, 3.0 1 false Seen "estimating lecture, Malaysia 2024: 50 h/t for 10 to 12 mm in walls";
    FixFrameBars = "RB_EXT" "Fix the cages of an external frame", "t",
        0.35 0.55 0.9, 3.0 1 true Seen "estimating lecture, Malaysia 2024: about 44 h/t for 16 to 25 mm with links";
    FormJacket = "FW_JACKET" "Make, fix and strip jacket forms", "m²",
        5.0 7.0 11.0, 3.0 1 false Seen
        "New Zealand estimating norms: 2.65 tradesman-hours per m² of column; Malaysian build-up 1.5 h/m²";
    FormWall = "FW_WALL" "Make, fix and strip wall forms", "m²",
        6.0 9.0 14.0, 3.0 1 false Seen
        "New Zealand estimating norms: 2.2 h/m² of wall; gang-hour tables of new civil work give an upper bound of 15.7 m²";
    FormFrame = "FW_EXT" "Make, fix and strip forms of an external frame", "m²",
        7.0 10.0 16.0, 3.0 1 true Seen "as for columns and walls, with room to work";
    FormSoffit = "FALSE_SLAB" "Falsework and soffit form of a connecting slab", "m²",
        10.0 16.0 25.0, 3.0 1 true Seen "New Zealand estimating norms: 0.6, 0.8 and 1.2 m² an hour per worker";
    PourJacket = "POUR_JACKET" "Place concrete in jackets through ports", "m³",
        2.0 4.0 8.0, 4.0 1 false Seen "rule-of-thumb tables: 16 m³ a day in new work, 0.5 m³ by hand for two";
    PourWall = "POUR_WALL" "Pump concrete into infill and wing walls", "m³",
        4.0 8.0 16.0, 4.0 1 true Seen "rule-of-thumb tables 2016: 16 m³ a day in new work";
    PourFrame = "POUR_EXT" "Pump concrete into an external frame and its slabs", "m³",
        10.0 18.0 30.0, 5.0 2 true Seen "rule-of-thumb tables 2016: 16 m³ a day in new work";
    ShotcreteDry = "SHOT_DRY" "Dry-mix shotcrete from one side", "m³",
        2.0 4.0 8.0, 4.0 3 true CommonPractice "allow 10 to 15 % rebound";
    ShotcreteWet = "SHOT_WET" "Wet-mix shotcrete from one side", "m³",
        6.0 12.0 25.0, 5.0 3 true CommonPractice "a shotcrete association gives dry mix about a quarter of this output";
    GroutTop = "GROUT_TOP" "Fill the gap under the beam with non-shrink grout", "m",
        8.0 15.0 25.0, 2.0 1 false CommonPractice "one to three days after the wall at the earliest";
    Plaster = "REST_PLAST" "Plaster or line new faces", "m²",
        8.0 14.0 22.0, 2.0 1 true Seen "rule-of-thumb tables and a Philippine estimate list: 8 to 17.5 m² a day for two";
    Paint = "REST_PAINT" "Paint, two coats", "m²",
        60.0 100.0 160.0, 2.0 0 true CommonPractice "air before the room is used";
    RehangCeiling = "REST_CEIL" "Hang the ceiling again", "m²",
        25.0 40.0 50.0, 2.0 1 false Seen "New Zealand estimating norms: 0.18 + 0.14 man-hours per m²";
    FitWindow = "REST_WIN" "Fit a new or narrower window", "window",
        3.0 4.0 6.0, 2.0 1 true Seen "planners' wiki on fit-out: 2 to 9 man-hours each; windows take weeks to come";
    ReconnectServices = "REST_SERV" "Reconnect and test services", "point",
        6.0 10.0 16.0, 2.0 1 false CommonPractice "";
    PatchFloor = "REST_FLOOR" "Patch the floor finish", "m²",
        10.0 18.0 30.0, 2.0 1 false CommonPractice "";
    HandBack = "HANDOVER" "Clean the room, test the air, move back", "room",
        1.0 2.0 4.0, 4.0 0 false CommonPractice "";
    BreakGroundSlab = "FND_BREAK" "Break the ground slab", "m³",
        1.0 2.0 3.5, 2.0 3 true Seen "planners' wiki on breaking out: 9.1, 6.2 and 4.7 h/m³ of reinforced slab";
    DigInside = "FND_DIG_IN" "Dig by hand inside", "m³",
        2.0 3.0 5.0, 3.0 1 false CommonPractice "";
    DigOutside = "FND_DIG_OUT" "Dig by machine outside", "m³",
        25.0 45.0 65.0, 3.0 2 true Seen "rule-of-thumb tables 2016: 5 to 8 m³ an hour, slowed for buried services";
    CastFooting = "FND_FOOT" "Footing: bars, forms and concrete", "m³",
        2.0 4.0 7.0, 5.0 1 true CommonPractice "";
    Micropile = "FND_MICRO" "Micropile with a low rig", "pile",
        1.0 2.0 3.0, 4.0 2 true CommonPractice "8 to 15 m long";
    SetUpSite = "EXT_SITE" "Hoarding, gates, separate ways", "site",
        0.07 0.12 0.2, 4.0 1 true CommonPractice "5 to 15 days a site";
    Scaffold = "EXT_SCAF" "Scaffold with sheeting, up and down", "m²",
        60.0 100.0 150.0, 3.0 2 true CommonPractice "sheeting darkens the rooms behind it";
    StripFace = "EXT_STRIP" "Clear canopies, pipes and tiles off the joint", "m²",
        8.0 12.0 20.0, 3.0 3 true CommonPractice "windows that face it stay shut";
    ErectPrecast = "EXT_PC" "Erect a precast piece and grout its joint", "piece",
        4.0 8.0 12.0, 5.0 1 true CommonPractice "nothing is lifted over rooms in use";
    FinishFace = "EXT_FIN" "Render, coat and make good outside", "m²",
        20.0 35.0 55.0, 3.0 1 true CommonPractice "";
    StripOut = "DEMO_SOFT" "Strip the building out, clear asbestos", "m²",
        20.0 40.0 70.0, 6.0 2 true CommonPractice "";
    Demolish = "DEMO_MACH" "Demolish by machine and sort", "m²",
        40.0 80.0 150.0, 5.0 3 true CommonPractice "the blocks next to it are affected";
}

/// A wait between activities, working days; inside it keeps a room shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wait {
    /// Its code.
    pub code: &'static str,
    /// What is waited for.
    pub name: &'static str,
    /// How long.
    pub days: Band,
    /// Where the figure comes from.
    pub mark: Mark,
    /// The source.
    pub note: &'static str,
}

/// Adhesive hardens before its bars are loaded.
pub const ADHESIVE_CURES: Wait = Wait {
    code: "LAG_ADH",
    name: "Adhesive cures before bars are loaded",
    days: Band { low: 0.25, mid: 1.0, high: 3.0 },
    mark: Mark::Memory,
    note: "product data; depends on temperature",
};

/// Vertical forms stay on.
pub const FORMS_STAY: Wait = Wait {
    code: "LAG_STRIP_V",
    name: "Vertical forms stay on",
    days: Band { low: 1.0, mid: 2.0, high: 3.0 },
    mark: Mark::Seen,
    note: "form removal tables of the IS 456 kind: 24 to 48 h",
};

/// Soffit forms of new beams and slabs stay on.
pub const SOFFITS_STAY: Wait = Wait {
    code: "LAG_SOFFIT",
    name: "Soffit forms of new beams and slabs stay on, props left",
    days: Band { low: 3.0, mid: 7.0, high: 10.0 },
    mark: Mark::Seen,
    note: "form removal tables of the IS 456 kind",
};

/// The wall shrinks before its top is grouted.
pub const WALL_BEFORE_GROUT: Wait = Wait {
    code: "LAG_GROUT",
    name: "Wall ages before its top is grouted",
    days: Band { low: 1.0, mid: 3.0, high: 7.0 },
    mark: Mark::CommonPractice,
    note: "",
};

/// Paint airs.
pub const PAINT_AIRS: Wait = Wait {
    code: "LAG_PAINT",
    name: "Room airs before it is used",
    days: Band { low: 1.0, mid: 2.0, high: 4.0 },
    mark: Mark::CommonPractice,
    note: "",
};

/// All waits, in the order of the works.
pub const WAITS: &[Wait] = &[ADHESIVE_CURES, FORMS_STAY, SOFFITS_STAY, WALL_BEFORE_GROUT, PAINT_AIRS];
