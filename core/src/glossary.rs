//! What each figure on the sheets means, how it is reached and which clause it rests on.
//!
//! Texts only, one entry a figure, so that the page can answer "where does this come
//! from" for every row it shows. Clauses carry a mark where they were not read in print:
//! `(from memory)` asks the reader to verify the number of the clause.

use crate::units::System;

/// The answer to "where does this come from".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Name of the figure as the sheets print it.
    pub title: &'static str,
    /// What it is.
    pub meaning: &'static str,
    /// How it is reached.
    pub method: &'static str,
    /// What it rests on.
    pub source: &'static str,
}

/// Declares the figures with their texts.
macro_rules! figures {
    ($( $name:ident: $title:literal, $meaning:literal, $method:literal, $source:literal; )*) => {
        /// A figure the sheets show.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Figure { $( #[doc = $meaning] $name, )* }

        impl Figure {
            /// Every figure.
            pub const ALL: &'static [Self] = &[ $( Self::$name, )* ];

            /// Its name as the sheets print it.
            pub const fn title(self) -> &'static str {
                match self { $( Self::$name => $title, )* }
            }

            /// Its texts, with quantities and formulas in the units shown.
            pub fn entry(self, system: System) -> Entry {
                let entry = match self {
                    $( Self::$name => Entry { title: $title, meaning: $meaning, method: $method, source: $source }, )*
                };
                let own = if system == System::Us { self.method_in_us_units() } else { None };
                Entry { method: own.unwrap_or(entry.method), ..entry }
            }
        }
    };
}

figures! {
    StrengthGain: "Strength gain",
        "Base-shear strength per weight, against the building as it stands, in the direction where that is weakest. More strength is not the same as more safety: a stiffer or more brittle scheme can gain strength and still do worse.",
        "The largest base shear of the capacity curves before a column or wall loses its load, least of all patterns and senses, divided by the seismic weight of the option.",
        "Definition of this tool; member strengths by the rule set named in the title block.";
    StrengthToDemand: "Strength ÷ elastic demand",
        "How much of the earthquake force of a fully elastic building the weakest storey can take, in the weaker direction. Below one the building must survive by ductility. A stiffer building is asked for more force, so a scheme can lower this figure and still bear more shaking.",
        "Storey strength at compatible drift over the storey shear of the elastic spectrum at the first period, nothing divided by a behaviour factor; the least of all storeys and both directions. Storeys are taken one at a time, each joint shared by halves between the columns above and below it, which leaves out strong columns that hold several storeys together; the capacity curve counts them.",
        "By the rule set: ASCE/SEI 41-17, 2.4.1.7 and 7.4.1.3, or EN 1998-1, 3.2.2.2 and 4.3.3.2.3, for the spectrum and its distribution over the height (from memory).";
    WeakestStorey: "Weakest storey",
        "The storey that sets strength ÷ elastic demand, and how the members that carry most of it give way.",
        "For each column the least of bending, shear, bar laps and joints governs; for each wall the least of shear, bending, perimeter bars and rocking of the footing.",
        "By the rule set: ASCE/SEI 41-17, 10.4.2.3 for columns and 10.7.2.3 for walls, or EN 1998-3, A.3.3 (from memory).";
    Period: "Period",
        "Time of one swing of the governing mode along x and along y. A stiffer building swings faster and may be pushed harder.",
        "Eigenvalues of the assembled frame lines and floors with cracked stiffness.",
        "Effective stiffness by the rule set: ASCE/SEI 41-17, Table 10-5, or EN 1998-1, 4.3.1(7) (from memory).";
    AddedWeight: "Added weight",
        "New concrete less what is taken out, and the same as a share of the seismic weight. It is pushed by the earthquake too, and something must carry it down.",
        "Volumes times 25 kN/m³ for concrete and 18 kN/m³ for masonry.",
        "Unit weights are common practice, no source.";
    NewMaterial: "New concrete and steel",
        "Concrete to be cast, footings included, and reinforcement to be placed.",
        "Volumes and bar lengths taken from the model of the scheme.",
        "Quantities of this tool; laps and waste by the table of rates.";
    ManDays: "Labour",
        "Days one person would need. The middle figure is for work at the usual pace; the range runs from fast to slow.",
        "Quantity times people over what their crew does in a day, summed over the activities; evenings and screens slow what is done inside, wet drilling has a rate of its own. Gangs held for whole hours with the largest crew of a step are not labour: jobs of a programme take more.",
        "Rates with their sources stand on the bench under Works and may be replaced there; many are planners' judgement.";
    RoomDaysInUse: "Rooms shut in use",
        "Rooms times the days on which they are shut although they would be in use, from clearing to hand-back. Days inside a break count apart.",
        "Jobs of every member are placed on gangs, rooms and working days one after the other; the first break that takes a group of rooms from end to end has it.",
        "Definition of this tool; a serial schedule with priority rules, the best of five kept.";
    LoudDays: "Loud days in use",
        "Days in use with drilling, roughening or breaking anywhere. Concrete carries that noise through the whole block.",
        "Days on which an activity heard through the structure goes on in an hour in which a room that is not shut is in use. Gangs begin at 8 by day and at 18 in the evening unless set otherwise.",
        "Noise of each activity, usual hours of rooms and of gangs are common practice, no source.";
    BreaksNeeded: "Breaks needed",
        "Long and short breaks in which rooms are shut. Should the work go slowly, more may be needed.",
        "Breaks of the calendar that hold a closed room.",
        "The calendar of the bench; presets follow published lists of school holidays.";
    StartToEnd: "Start to hand-back",
        "Weeks from the first day of the works to the day everything is handed back, waiting for breaks included.",
        "First start to last end of all jobs, at the fast, usual and slow values of every rate and wait.",
        "Table of rates, each with its mark.";
    ShutAtOnce: "Rooms shut at once",
        "The most rooms shut on one day, and their share of the floor of all rooms. So much room must be found elsewhere.",
        "Day by day over the programme; floor areas from the grid.",
        "Definition of this tool.";
    CostIndex: "Cost index",
        "Labour and material over what a new building of the same floor area costs, in the same coin. It ranks schemes and is no price; temporary rooms, fees and taxes are apart.",
        "Man-days, and material in man-days of those who work with it, with preliminaries on top, over man-days per square metre of new building. The range runs from fast to slow work; the sum stands on the Works sheet.",
        "Prices stand on the bench under Works and may be replaced there; common practice, no source. From about 40 to 70 % agencies ask whether to replace.";
    Carbon: "Carbon",
        "Greenhouse gas of new concrete, steel, forms and plaster, and the same over demolishing and building anew.",
        "Quantities times published factors, low, usual and high. Transport, machines and what the building uses later are left out; the sum stands on the Works sheet.",
        "Ranges over Ökobaudat, Boverket, ICE and EPiC factors and benchmark tables of new schools; the quantity of plaster is common practice, no source.";
    RunOtherwise: "Run otherwise",
        "The same works with one thing done otherwise. Nothing is changed in the project; the calendar shows the line that is chosen.",
        "Each line is a whole programme of its own at the three paces.",
        "Definition of this tool.";
    StagedSafety: "Stage by stage",
        "What is done by the end of a break, or up to a storey, taken as a scheme of its own: how strong, eccentric and safe the building is if the works stop there.",
        "Each stage goes through the whole evaluation with the members whose last job is over by then. It is called worse where a storey loses more than half a per cent of its strength, capacity ÷ demand falls by as much, or the eccentricity grows by more than a per cent of the plan.",
        "Definition of this tool; the limits are common practice, no source.";
    Eccentricity: "Eccentricity",
        "How far the centre of stiffness lies from the centre of mass, across the direction. The floors turn about it, and the far side moves more.",
        "Largest of all floors; centres from the assembled stiffness and the weights of the floors.",
        "Definition as in ASCE 7-16, 12.8.4.1, and EN 1998-1, 4.2.3.2 (from memory).";
    WorstSlab: "Connecting slab",
        "Demand over design strength of the most utilised connecting slab, and where it is. Above one, old and new do not act together.",
        "The slab's force is bounded by the elastic spectrum and by what the added frame can take. Checked are the joints with both beams, the strip in shear, the pull on the bonded bars and the old slab along the line; the most used part counts.",
        "By the rule set: ACI 318-19, 22.9.4 and 18.12.9, or EN 1992-1-1, 6.2.5 and 6.2.3.";
    WatchFor: "Watch for",
        "What the engine found that a number does not show, the gravest first.",
        "Rules on the results: brittle failure, weak storeys, eccentricity, short anchorage, uplift and limits of the formulas.",
        "Each sentence belongs to one rule; thresholds are this tool's unless a clause is named.";
    FloorForce: "Floor force",
        "Lateral force on a floor under the elastic spectrum, with that on the added frames.",
        "Weight times height to a power between one (periods up to 0.5 s) and two (from 2.5 s), scaled to the elastic base shear.",
        "By the rule set: ASCE/SEI 41-17, 7.4.1.3, or EN 1998-1, 4.3.3.2.3 with the power one (from memory).";
    StoreyShear: "Storey shear",
        "What a storey has to pass on to the one below: all floor forces above it.",
        "Sum of the floor forces from the roof down.",
        "Equilibrium.";
    Shares: "Shares",
        "Who carries the storey shear: members as built, members strengthened by jackets or wing walls, and new walls and frames. A negative share pushes the other way.",
        "Shears of the frame lines in the solved model, without accidental eccentricity, over the storey shear.",
        "Stiffness, not strength, decides; effective stiffness by the rule set, ASCE/SEI 41-17, Table 10-5, or EN 1998-1, 4.3.1(7) (from memory).";
    Drift: "Storey drift",
        "How far a floor moves past the one below at the centre of mass, and over the storey height. Everything in the storey has to follow.",
        "Elastic displacement under the unreduced spectrum, equal-displacement rule.",
        "Displacement of the solved model.";
    SlabDemand: "Slab demand",
        "The shear a connecting slab must pass between the building and the added frame.",
        "Before the capacity curve, the force under the elastic spectrum. With it the greatest at the performance point, at the added frame's own mechanism or uplift, and the frame's share of the least force on the floor. Never divided by a behaviour factor; at most what the frame can deliver, except what the curve itself brings.",
        "Equilibrium; the slab must not yield, so reduced forces are not used.";
    ShearFriction: "Shear friction φVₙ",
        "Design strength of the joint between the slab and the existing beam: bars across it clamp two rough faces together.",
        "φ μ Avf fs with the bars' stress limited by their anchorage, less tension across the joint; never above the bound on the interface with the weaker concrete. Where anchorage limits the bars, shear cannot even out along the joint: what it carries is this divided by the ratio of peak to mean shear. A face counts as roughened with hollows of about 6 mm.",
        "By the rule set: ACI 318-19, 22.9.4.2 and Table 22.9.4.4, or EN 1992-1-1, 6.2.5 with its material factors inside.";
    StripShear: "Strip in shear φVₙ",
        "Design strength of the slab itself, working in shear in its own plane like a deep beam lying flat.",
        "φ Acv (0.17 √f′c + ρ fy), never above 0.66 √f′c Acv before φ, with f′c in MPa.",
        "By the rule set: ACI 318-19, 18.12.9 with φ by 21.2.4, or the truss of EN 1992-1-1, 6.2.3 at 45° (from memory).";
    Utilisation: "Utilisation",
        "Demand over the lesser design strength, which is underlined. Above one the slab gives way before the frame is used.",
        "Slab demand ÷ the underlined strength. A part behind the slab that carries less than its force is named beneath.",
        "Definition.";
    ConnectionUse: "Demand ÷ design strength",
        "What is asked of the weakest part of a connection over what it can carry. Above one that part gives way before the new work is used; a footing then lifts or slides.",
        "Every part is checked, the most used one is shown; demand is elastic or what the members can deliver, whichever is less, and never divided by a behaviour factor.",
        "Definition; strengths by the rule set named in the title block, statics for footings and collectors.";
    DemandBound: "Demand set by",
        "What limits the force the slab is checked for: the shaking, or the most the added frame can take before it bends or its footings lift.",
        "The least of the three bounds.",
        "Capacity of the added frame with bars at 1.25 fy; ASCE/SEI 41-17, 7.5.1 on force-controlled actions, EN 1998-1, 4.4.2.5 on overstrength (from memory).";
    LineShear: "Shear of each line",
        "Storey shear each frame line carries, and what it may carry once the mass is moved by five per cent of the plan to the worse side.",
        "Solved model with rigid floors, turned by the accidental eccentricity both ways.",
        "ASCE 7-16, 12.8.4.2, and EN 1998-1, 4.3.2 (from memory).";
    SeismicWeight: "Seismic weight",
        "What the ground shakes: the weight that moves with each floor. Half a storey's columns and walls go to the floor above and half to the one below.",
        "Slabs, beams, columns, walls and finishes, and the part of the live load that is likely to be there; external frames are counted apart.",
        "ASCE/SEI 7-16, 12.7.2, and EN 1998-1, 3.2.4 (from memory); unit weights common practice, no source.";
    StoreyStiffness: "Storey stiffness",
        "Storey shear over storey drift under the elastic forces. It depends on how the forces spread over the height, and where a wall pushes back it can be negative.",
        "From the whole frame with cracked stiffness, joint rotations and turning included; not a property of the storey alone.",
        "Elastic analysis; cracked stiffness by the rule set, ASCE/SEI 41-17, Table 10-5, or EN 1998-1, 4.3.1(7) (from memory).";
    Twist: "How the floor moves",
        "The floor as a rigid plate under the elastic forces of one direction. Where centre of mass and centre of stiffness lie apart it turns, and the lines on one side move further and carry more.",
        "Displacement and rotation of the floor from the assembled frame lines, without accidental eccentricity; beside each line its shear in this storey and what it was in the building as it stands.",
        "Equilibrium of the rigid floor; common practice, no source.";
    CapacityToDemand: "Capacity ÷ demand",
        "How many times as strong the ground motion may be before the first limit is reached. One or more means that no column, wall or slab passes what the objective accepts; it does not mean that the building stays undamaged.",
        "The building is pushed over until something limits it; the ground motion is scaled until the displacement it asks for is the displacement there. The least over force patterns and senses, and on the Options sheet over both directions.",
        "By the rule set: ASCE/SEI 41-17, 7.4.3.3 and Tables 10-8, 10-9 and 10-19, or EN 1998-1, Annex B and EN 1998-3, A.3, for the displacement and the limits of members (from memory).";
    CapacityCurve: "Capacity curve",
        "Base shear against roof displacement while the building is pushed sideways by growing forces. Where it bends members yield; where it falls they lose strength.",
        "Member by member, from event to event, with second-order effects; the pattern of the forces and the sense of the push are those that give the lowest ratio.",
        "By the rule set: ASCE/SEI 41-17, 7.4.3.2, or EN 1998-1, 4.3.3.4.2 (from memory).";
    PerformancePoint: "Performance point",
        "The roof displacement the ground motion asks of this option, in rust. It depends on the option: a stiffer building is asked for less.",
        "Coefficients for the shape, for short periods and for loss of stiffness times the elastic displacement at the effective period, repeated until the idealised curve (thin) belongs to its own answer.",
        "By the rule set: ASCE/SEI 41-17, 7.4.3.3.2, or EN 1998-1, Annex B (from memory).";
    FirstLimit: "First limit",
        "What is reached first along the curve: a member's accepted deformation, loss of gravity support, a fall of the base shear by a fifth, or the end of the curve. The limits after it show what would count if it were cured.",
        "Deformation of every member followed along the curve; members of one storey that fail alike count once.",
        "Acceptance by the objective named in the ground motion; the fall by a fifth is common practice, no source.";
    StoreyCurve: "Storey by storey",
        "Shear of each storey against its drift, all to one scale, the top storey on top. The storey whose drift runs away is where the mechanism forms.",
        "Shears carried by the members and drifts at the centre of mass, from the states along the curve; a rust line marks the drift at the performance point, a dot where the scrubber is.",
        "Equilibrium and compatibility of the states along the curve.";
    MemberStates: "Members along the curve",
        "What has become of the members where the scrubber is. A dot: it yields, slips or cracks; a slash: it loses strength; a cross: it no longer carries gravity load.",
        "Events of the curve up to there. The mark stands in the middle of the member, whichever end it is; floors sway as at their centre of mass.",
        "Force–deformation lines by the rule set named in the title block.";
    Lift: "What would lift it most",
        "Capacity ÷ demand with one change at a time. It shows where effort pays and where another member takes over.",
        "Each change is put through the whole evaluation: members of a storey a tenth stronger or able to deform a tenth further, each dimension of a measure about a tenth larger and smaller, a measure left out.",
        "Definition of this tool.";
    AxialRatio: "Axial load ratio",
        "Gravity load of the column over the area of its concrete as built times the concrete strength typed in. Above about 0.4 little is left for bending in an earthquake.",
        "Floor area that rests on it from all floors above, with the part of the live load that is likely to be there, over A·f′c.",
        "Definition; the threshold is common practice, no source.";
    AxialRange: "Load when pushed over",
        "Least and most axial force of the column as its frame sways to either side: gravity less and plus the shears of the beams that frame in above it. Columns at the ends of a frame change most; below zero the bars pull.",
        "Each beam's end moments, or as much of them as joint, columns and its own shear let it have, brought to the middles of its columns, over the span; summed over the floors above. An upper bound along one direction at a time; strengths and capacity curves keep the gravity load.",
        "Equilibrium. The limit it is checked against is by the rule set: ACI 318-19, 22.4.2.1, without φ, or EN 1992-1-1, 3.1.6 and 3.2.7 (from memory).";
    BeamShear: "Shear of the beam",
        "Shear of the beam over the bay with both its ends at their bending strengths, plus that of gravity at the end where it is more, of its shear strength. Where the sum is more, the beam shears before it bends: its end moments are held to what gravity leaves, and it slips and loses strength in the capacity curve.",
        "(M sagging + M hogging) over the clear span between columns or wings; gravity of its web, of masonry on it and of the floor up to 45° lines, simply supported. Strength of its own section, stirrups and concrete as expected.",
        "By the rule set: ACI 318-19, 22.5, with stirrups counted by ASCE/SEI 41-17, 10.3.4, or EN 1992-1-1, 6.2.2 and 6.2.3 (from memory). The share of the floor is common practice, no source.";
    MemberFailure: "How it fails",
        "What gives first in a column or wall when its storey is pushed sideways, at what shear, and up to which storey drift it keeps that strength.",
        "For each member the least of bending, shear, bar laps, beams and joints, or for walls of shear, bending, rocking and perimeter bars, in the weaker sense; beside it what it would carry if everything stayed elastic.",
        "By the rule set: ASCE/SEI 41-17, 10.4.2.3 for columns and 10.7.2.3 for walls, or EN 1998-3, A.3.3 (from memory).";
    Ways: "Strengths one by one",
        "The shear at which the column or wall would give in each way by itself, in its weaker sense; the least is its strength. Bending is that of its own ends, with bars pulling as far as their laps and anchorage let them; joint and beams are told where they let the ends have less.",
        "Moments at both ends over the clear height, or of a wall over the height at which the forces above act. Shear is that of the column at little ductility; with the lower strengths for what must not fail it is checked beside the capacity curve.",
        "By the rule set: ASCE/SEI 41-17, 10.3.5, 10.4.2.3 and 10.7.2.3, or EN 1998-3, A.3.2, A.3.3 and 2.2.1 (from memory).";
    Backbone: "Shear and drift of a column",
        "The storey drifts at which the column has its strength, begins to lose it, has lost what bends or shears to what is left, and can carry its load no longer.",
        "Its strength over its stiffness; then the plastic rotation over its clear height, or the ductility at which shear has worn down to what bends; a fall over a five-hundredth of the storey; friction of hoops and load on a shear crack.",
        "By the rule set: ASCE/SEI 41-17, Table 10-8, or EN 1998-3, A.3.2.2; axial load by Elwood and Moehle, 2005, in both (from memory).";
    ColumnsOverBeams: "Columns over beams",
        "What the columns at the joint over it can carry in bending over what its beams can bring. Below one the columns yield first and drift gathers in one storey.",
        "Moments at the gravity loads, brought to the centre of the joint, in the sense where the columns have less to spare.",
        "Definition; new frames are asked for 1.2 by ACI 318-19, 18.7.3.2, or 1.3 by EN 1998-1, 4.4.2.3 (from memory).";
    SectionStrength: "Section strength",
        "How much bending a section carries together with a load along the member: every pair of load and moment inside the curve is carried. Some load helps, since it keeps cracks shut; beyond the balanced point more load leaves less for bending.",
        "Plane sections with the most compressed edge at its ultimate strain; concrete by the law of each rule set, old and new at expected strengths without reduction factors, bars only as far as laps and anchorage let them pull. Moments at foot and head come from the push that sets capacity ÷ demand; the load is that of gravity, what overturning adds is left out.",
        "ACI 318-19, 22.2 (rectangular block), and EN 1992-1-1, 3.1.7 and 6.1 (parabola and rectangle), from memory; expected strengths by the rule set.";
    Screening: "Quick screening",
        "Published checks that take minutes by hand: areas of columns and walls, weights, and the shapes past earthquakes warn of. A first sieve, never a verdict: it knows nothing of bars, laps or footings.",
        "Likely inadequate where the average shear stress is above its limit and both area indices lie in the range of severe damage, or where a storey has less than 0.65 of the strength of the one above; likely adequate where every check that can be made is met; otherwise it needs evaluation.",
        "Checks and limits as named in the rows, from memory; how they are summed up is this tool's judgement, no source.";
    MeasureGain: "Measures that fit",
        "What the storey's strength would become with the measure added to the option looked at, and once it is computed capacity ÷ demand. Nothing is added until it is chosen.",
        "The whole evaluation with the measure at the sizes usually tried first; a measure the project would refuse carries the reason.",
        "Definition of this tool; starting sizes are common practice, no source.";
    Foresight: "Capacity ÷ demand over a slider's range",
        "What each value of this one dimension would give with all others as they are. The dotted line is one, where the scheme passes; the tick is the value now, a paler one the value before a drag. The curve is unbroken where the direction along x decides and dashed where along y does; its scale does not begin at nothing.",
        "Stops of the slider, marked by dots, are put through the whole evaluation: first both ends, the middle and the quarters, then between one that passes and one that does not until they are neighbours. A value named as passing was evaluated, and so was its neighbour that does not; between dots that agree nothing was tried.",
        "Definition of this tool.";
    FrameSizes: "Proposed sizes of an external frame",
        "The smallest columns, beams and bars of a row of usual proportions with which the scheme reaches the target along this face, all else as it stands. Strength is the largest base shear before a column or wall loses its load.",
        "Columns grow step by step in round numbers of the units shown, each with a beam of its own and the fewest bars in the column that leave it stronger, within the rule set's bounds. Each goes through the whole evaluation, from the smallest up, with the drift of the performance point. Hoops, joints, slabs and footings stay as they are: where a design may begin, never the design.",
        "By the rule set: ACI 318-19, 18.6 to 18.8, and ASCE/SEI 7-22, Table 12.12-1, or EN 1998-1, 4.4.2.3, 4.4.3.2, 5.4.3 and 5.6.2.2 (from memory).";
    StoreyStrength: "Storey strength",
        "The largest shear a storey's members reach together at one drift. Stiff, brittle members may be lost before ductile ones come up to strength, so it is not the plain sum.",
        "Each member is followed along its force–drift line; the largest sum over the drifts at which one of them is lost.",
        "Definition of this tool on member strengths by the rule set.";
}

impl Figure {
    /// The method in US units, where it names a quantity or a formula that is not free of units.
    const fn method_in_us_units(self) -> Option<&'static str> {
        match self {
            Self::AddedWeight => Some("Volumes times 159 lb/ft³ for concrete and 115 lb/ft³ for masonry."),
            Self::ShearFriction => Some(
                "φ μ Avf fs with the bars' stress limited by their anchorage, less tension across the joint; never above \
                 the bound on the interface with the weaker concrete. Where anchorage limits the bars, shear cannot even \
                 out along the joint: what it carries is this divided by the ratio of peak to mean shear. A face counts \
                 as roughened with hollows of about a quarter of an inch.",
            ),
            Self::StripShear => Some("φ Acv (2 √f′c + ρ fy), never above 8 √f′c Acv before φ, with f′c in psi."),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Figure;
    use crate::model::{CONCRETE_KN_M3, MASONRY_KN_M3};
    use crate::units::{Dimension, System, show};

    #[test]
    fn unit_weights_are_told_as_they_are_used() {
        for system in [System::Si, System::Us] {
            let method = Figure::AddedWeight.entry(system).method.replace(' ', "");
            for weight in [CONCRETE_KN_M3, MASONRY_KN_M3] {
                let own = show(weight, Dimension::KilonewtonsPerCubicMetre, system).replace('\u{a0}', "");
                assert!(method.contains(&own.replace(".0", "")), "{method}: {own}");
            }
        }
    }

    #[test]
    fn every_figure_says_what_how_and_whence_in_sentences() {
        for figure in Figure::ALL {
            let entry = figure.entry(System::Us);
            for text in [entry.meaning, entry.method, entry.source] {
                assert!(text.ends_with('.'), "{figure:?}: {text}");
                assert!(text.matches(". ").count() < 3, "{figure:?} runs on: {text}");
            }
        }
    }

    #[test]
    fn strength_over_demand_is_never_called_by_another_name() {
        for figure in [Figure::StrengthGain, Figure::StrengthToDemand, Figure::StoreyStrength] {
            let entry = figure.entry(System::Us);
            for text in [entry.title, entry.meaning, entry.method, entry.source] {
                assert!(!text.to_lowercase().contains("capacity ÷ demand"), "{figure:?}");
            }
        }
    }
}
