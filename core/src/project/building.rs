//! The building as the project file describes it (format 1).

use super::fields::{Names, Span, Spec, SpectrumPoint, choice, record};
use super::{Assumed, Feature, Practice, Rooms};
use crate::units::Dimension::{
    Gravity, Kilopascals, MeganewtonsPerCubicMetre, Megapascals, Metres, Millimetres, Number, Seconds, Share, Year,
};

/// The most storeys a project may have.
pub const MAX_STOREYS: u32 = 12;
/// The most grid lines a project may have in one direction.
pub const MAX_LINES: u32 = 30;

const STOREY_SPAN: Spec = Spec::whole("Storeys", 1, MAX_STOREYS);
const BAY_SPAN: Spec = Spec::whole("Bays", 1, MAX_LINES - 1);

choice! {
    /// A direction in plan.
    pub enum Direction {
        /// Along the x axis.
        X = "x", "along x";
        /// Along the y axis.
        Y = "y", "along y";
    }
}

impl Direction {
    /// Both directions.
    pub const BOTH: [Self; 2] = [Self::X, Self::Y];

    /// The other direction.
    pub const fn across(self) -> Self {
        match self {
            Self::X => Self::Y,
            Self::Y => Self::X,
        }
    }

    /// 0 for x, 1 for y.
    pub const fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
        }
    }
}

choice! {
    /// What the building is used for.
    pub enum Occupancy {
        /// A school.
        School = "school", "School";
        /// A clinic.
        Clinic = "clinic", "Clinic";
        /// An office.
        Office = "office", "Office";
        /// Another use.
        Other = "other", "Other";
    }
}

choice! {
    /// Column bases.
    pub enum Base {
        /// Held against rotation.
        Fixed = "fixed", "fixed";
        /// Free to rotate.
        Pinned = "pinned", "pinned";
    }
}

choice! {
    /// How hoop ends are bent.
    pub enum Hooks {
        /// 90° hooks, which open once the cover is lost.
        Right = "90", "90°";
        /// 135° hooks, anchored in the core.
        Seismic = "135", "135°";
    }
}

record! {
    /// A grid line across one of the plan axes.
    pub struct GridLine {
        /// Name in its bubble; unique over both directions.
        name: String = Spec { min: 1.0, ..Spec::text("Name", 4) };
        /// Ordinate, m.
        at_m: f64 = Spec::number("Ordinate", Metres, -500.0, 500.0, 0.05);
    }
}

record! {
    /// A storey with the floor on top of it.
    pub struct Storey {
        /// Floor to floor, m.
        height_m: f64 = Spec::number("Height", Metres, 2.0, 8.0, 0.05);
        /// Thickness of the floor slab on top, mm.
        slab_mm: f64 = Spec::number("Slab", Millimetres, 60.0, 400.0, 10.0);
        /// Finishes, partitions and roofing on that floor, kPa.
        finishes_kpa: f64 = Spec::number("Finishes and partitions", Kilopascals, 0.0, 10.0, 0.1);
        /// Live load on that floor, kPa.
        live_kpa: f64 = Spec::number("Live load", Kilopascals, 0.0, 15.0, 0.25);
    }
}

choice! {
    /// How well the existing building is known.
    pub enum Knowledge {
        /// Taken from the practice of its time.
        Assumed = "assumed", "no drawings, values of its time";
        /// Complete drawings with reports on materials, no tests of its own.
        Drawings = "drawings", "drawings and old reports";
        /// Drawings checked on site, materials tested.
        Tested = "tested", "checked on site and tested";
    }
}

record! {
    /// Materials of the existing building.
    pub struct Materials {
        /// Concrete compressive strength, lower bound or specified, MPa.
        concrete_mpa: f64 = Spec::number("Concrete strength", Megapascals, 5.0, 70.0, 0.5);
        /// Yield strength of longitudinal bars, lower bound or specified, MPa.
        steel_mpa: f64 = Spec::number("Bar yield strength", Megapascals, 180.0, 600.0, 5.0);
        /// Yield strength of hoops and stirrups, MPa.
        hoop_steel_mpa: f64 = Spec::number("Hoop yield strength", Megapascals, 180.0, 600.0, 5.0);
        /// How well the building is known.
        knowledge: Knowledge = Spec::of("Known from").or("\"drawings\"");
    }
}

record! {
    /// A rectangular column type.
    pub struct ColumnType {
        /// Name used by assignments.
        name: String = Spec { min: 1.0, ..Spec::text("Name", 24) };
        /// Size along x, mm.
        x_mm: f64 = Spec::number("Size along x", Millimetres, 150.0, 2000.0, 10.0);
        /// Size along y, mm.
        y_mm: f64 = Spec::number("Size along y", Millimetres, 150.0, 2000.0, 10.0);
        /// Longitudinal bars in all, spread round the perimeter.
        bars: u32 = Spec::whole("Bars", 4, 60);
        /// Bar diameter, mm.
        bar_mm: f64 = Spec::number("Bar diameter", Millimetres, 8.0, 40.0, 1.0);
        /// Clear cover to the hoop, mm.
        cover_mm: f64 = Spec::number("Cover to hoop", Millimetres, 10.0, 80.0, 1.0).or("30");
        /// Hoop diameter, mm.
        hoop_mm: f64 = Spec::number("Hoop diameter", Millimetres, 5.0, 20.0, 1.0);
        /// Hoop spacing, mm.
        hoop_spacing_mm: f64 = Spec::number("Hoop spacing", Millimetres, 40.0, 600.0, 5.0);
        /// Hoop legs along x.
        hoop_legs_x: u32 = Spec::whole("Hoop legs along x", 2, 12).or("2");
        /// Hoop legs along y.
        hoop_legs_y: u32 = Spec::whole("Hoop legs along y", 2, 12).or("2");
        /// How the hoops end.
        hooks: Hooks = Spec::of("Hooks").or("\"90\"");
        /// Lap length of the bars above each floor, mm; left out where there is no lap.
        lap_mm: Option<f64> = Spec::number("Lap length", Millimetres, 100.0, 3000.0, 10.0);
        /// Base of the lowest storey.
        base: Base = Spec::of("Base").or("\"fixed\"");
    }
}

record! {
    /// A rectangular beam type with the slab as its flange.
    pub struct BeamType {
        /// Name used by assignments.
        name: String = Spec { min: 1.0, ..Spec::text("Name", 24) };
        /// Web width, mm.
        width_mm: f64 = Spec::number("Width", Millimetres, 100.0, 1500.0, 10.0);
        /// Depth with the slab, mm.
        depth_mm: f64 = Spec::number("Depth", Millimetres, 150.0, 2000.0, 10.0);
        /// Top bars at the ends.
        top_bars: u32 = Spec::whole("Top bars", 1, 20);
        /// Diameter of the top bars, mm.
        top_bar_mm: f64 = Spec::number("Top bar diameter", Millimetres, 8.0, 40.0, 1.0);
        /// Bottom bars at the ends.
        bottom_bars: u32 = Spec::whole("Bottom bars", 1, 20);
        /// Diameter of the bottom bars, mm.
        bottom_bar_mm: f64 = Spec::number("Bottom bar diameter", Millimetres, 8.0, 40.0, 1.0);
        /// Clear cover to the stirrup, mm.
        cover_mm: f64 = Spec::number("Cover to stirrup", Millimetres, 10.0, 80.0, 1.0).or("30");
        /// Stirrup diameter (two legs), mm.
        stirrup_mm: f64 = Spec::number("Stirrup diameter", Millimetres, 5.0, 20.0, 1.0);
        /// Stirrup spacing, mm.
        stirrup_spacing_mm: f64 = Spec::number("Stirrup spacing", Millimetres, 40.0, 600.0, 5.0);
    }
}

record! {
    /// Columns of one type; later assignments override earlier ones.
    pub struct ColumnPlacing {
        /// Column type, or `none` for no column.
        column: String = Spec { min: 1.0, ..Spec::text("Column type", 24) };
        /// Names of lines across x; empty for all.
        x: Names = Spec::list("Lines across x", 0, MAX_LINES).or("[]");
        /// Names of lines across y; empty for all.
        y: Names = Spec::list("Lines across y", 0, MAX_LINES).or("[]");
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREY_SPAN;
    }
}

record! {
    /// Beams of one type; later assignments override earlier ones.
    pub struct BeamPlacing {
        /// Beam type, or `none` for no beam.
        beam: String = Spec { min: 1.0, ..Spec::text("Beam type", 24) };
        /// Names of the grid lines they lie on; empty for all.
        lines: Names = Spec::list("Lines", 0, 2 * MAX_LINES).or("[]");
        /// Bays, counted from 1 along the line; all where left out.
        bays: Option<Span> = BAY_SPAN;
        /// Floors, by the storey below them; all where left out.
        storeys: Option<Span> = STOREY_SPAN;
    }
}

record! {
    /// A strip or pad footing.
    pub struct Footing {
        /// Length along the wall or frame, m; for pads of a frame the length of each pad.
        length_m: f64 = Spec::number("Footing length", Metres, 0.5, 60.0, 0.1).slider();
        /// Width, m.
        width_m: f64 = Spec::number("Footing width", Metres, 0.4, 12.0, 0.1).slider();
        /// Depth of concrete, m.
        depth_m: f64 = Spec::number("Footing depth", Metres, 0.3, 3.0, 0.05).or("0.6");
        /// Allowable bearing pressure of the ground, kPa.
        bearing_kpa: f64 = Spec::number("Allowable bearing", Kilopascals, 30.0, 2000.0, 10.0);
        /// Subgrade modulus, MN/m³; 120 times the allowable bearing where left out.
        subgrade_mn_m3: Option<f64> = Spec::number("Subgrade modulus", MeganewtonsPerCubicMetre, 1.0, 1000.0, 1.0);
        /// Tied to the old footings so that they keep it from sliding.
        tied: bool = Spec::of("Tied to the old footings").or("false");
    }
}

record! {
    /// An opening in a wall.
    pub struct Opening {
        /// Width, mm.
        width_mm: f64 = Spec::number("Opening width", Millimetres, 200.0, 6000.0, 50.0).slider();
        /// Height, mm.
        height_mm: f64 = Spec::number("Opening height", Millimetres, 200.0, 6000.0, 50.0).slider();
    }
}

record! {
    /// An existing reinforced-concrete wall between two columns.
    pub struct Wall {
        /// The grid line it stands on.
        line: String = Spec { min: 1.0, ..Spec::text("Line", 4) };
        /// The bay, counted from 1 along the line.
        bay: u32 = Spec::whole("Bay", 1, MAX_LINES - 1);
        /// First and last storey.
        storeys: Span = STOREY_SPAN;
        /// Thickness, mm.
        thickness_mm: f64 = Spec::number("Thickness", Millimetres, 80.0, 800.0, 10.0);
        /// Diameter of its bars, mm.
        bar_mm: f64 = Spec::number("Bar diameter", Millimetres, 5.0, 25.0, 1.0);
        /// Spacing of its bars both ways, mm.
        bar_spacing_mm: f64 = Spec::number("Bar spacing", Millimetres, 50.0, 600.0, 10.0);
        /// Curtains of bars.
        curtains: u32 = Spec::whole("Curtains", 1, 2);
        /// Opening, centred in the panel.
        opening: Option<Opening> = Spec::of("Opening");
        /// Footing; a gravity-only rocking limit is used where left out.
        footing: Option<Footing> = Spec::of("Footing");
    }
}

record! {
    /// Masonry panels between columns.
    pub struct Masonry {
        /// Names of the grid lines they stand on.
        lines: Names = Spec::list("Lines", 1, 2 * MAX_LINES);
        /// Bays, counted from 1 along the line; all where left out.
        bays: Option<Span> = BAY_SPAN;
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREY_SPAN;
        /// Thickness, mm.
        thickness_mm: f64 = Spec::number("Thickness", Millimetres, 80.0, 600.0, 10.0);
        /// Height above the floor, mm; full height where left out.
        sill_mm: Option<f64> = Spec::number("Sill height", Millimetres, 200.0, 4000.0, 50.0);
        /// Compressive strength, MPa.
        compressive_mpa: f64 = Spec::number("Compressive strength", Megapascals, 0.5, 30.0, 0.1).or("4.0");
        /// Bed-joint shear strength, MPa.
        shear_mpa: f64 = Spec::number("Shear strength", Megapascals, 0.02, 2.0, 0.01).or("0.2");
    }
}

record! {
    /// The building as it stands.
    pub struct Building {
        /// What it is used for.
        occupancy: Occupancy = Spec::of("Use");
        /// Year of construction.
        year: u32 = Spec { dimension: Year, ..Spec::whole("Built", 1880, 2100) };
        /// Where the practice it was put up by was at home.
        practice: Practice = Spec::of("By the practice of").or("\"other\"");
        /// Grid lines across x, by increasing ordinate.
        x_lines: Vec<GridLine> = Spec::list("Lines across x", 2, MAX_LINES);
        /// Grid lines across y, by increasing ordinate.
        y_lines: Vec<GridLine> = Spec::list("Lines across y", 2, MAX_LINES);
        /// Storeys from the ground up.
        storeys: Vec<Storey> = Spec::list("Storeys", 1, MAX_STOREYS);
        /// Share of the live load that belongs to the seismic weight.
        live_share: f64 = Spec::number("Live load in seismic weight", Share, 0.0, 1.0, 0.05).or("0.25");
        /// Materials.
        materials: Materials = Spec::of("Materials");
        /// Column types.
        column_types: Vec<ColumnType> = Spec::list("Column types", 1, 60);
        /// Beam types.
        beam_types: Vec<BeamType> = Spec::list("Beam types", 1, 60);
        /// Where which column stands.
        columns: Vec<ColumnPlacing> = Spec::list("Columns", 1, 400);
        /// Where which beam lies.
        beams: Vec<BeamPlacing> = Spec::list("Beams", 1, 400);
        /// Existing reinforced-concrete walls.
        walls: Vec<Wall> = Spec::list("Walls", 0, 200).or("[]");
        /// Masonry panels.
        masonry: Vec<Masonry> = Spec::list("Masonry", 0, 200).or("[]");
        /// Whether masonry of full height is counted in stiffness and strength. Where it is not it
        /// still weighs, and sills still hold columns, which is the safe side of leaving it out.
        masonry_counts: bool = Spec::of("Full-height masonry carries load").or("true");
        /// How rooms lie on the grid.
        rooms: Rooms = Spec::of("Rooms").or("{}");
        /// What of it is assumed, typical of its time.
        assumed: Vec<Assumed> = Spec::list("Assumed, typical of its time", 0, Feature::OPTIONS.len() as u32).or("[]");
    }
}

choice! {
    /// Performance objective.
    pub enum Objective {
        /// The building stays usable.
        ImmediateUse = "immediate_use", "immediate use";
        /// People get out unharmed.
        LifeSafety = "life_safety", "life safety";
        /// The building stands.
        NearCollapse = "near_collapse", "near collapse";
    }
}

choice! {
    /// Ground type (EN 1998-1 Table 3.1).
    pub enum GroundType {
        /// Rock.
        A = "a", "A, rock";
        /// Very dense sand, gravel or very stiff clay.
        B = "b", "B, very dense or very stiff";
        /// Dense or medium-dense sand, gravel or stiff clay.
        C = "c", "C, dense or stiff";
        /// Loose to medium soil.
        D = "d", "D, loose to medium";
        /// Shallow alluvium over stiff ground.
        E = "e", "E, alluvium over stiff ground";
    }
}

choice! {
    /// Shape of the spectrum over ground types (EN 1998-1 3.2.2.2).
    pub enum SpectrumShape {
        /// Strong, distant earthquakes.
        Type1 = "type_1", "type 1, strong earthquakes";
        /// Surface-wave magnitude up to 5.5.
        Type2 = "type_2", "type 2, magnitude up to 5.5";
    }
}

record! {
    /// Shaking given by ground acceleration and ground type (EN 1998-1 3.2.2.2).
    pub struct GroundAcceleration {
        /// Reference peak acceleration on rock, g.
        rock_g: f64 = Spec::number("Acceleration on rock a_gR", Gravity, 0.02, 1.5, 0.02).or("0.2").slider();
        /// Ground type.
        ground: GroundType = Spec::of("Ground type").or("\"c\"");
        /// Shape of the spectrum.
        shape: SpectrumShape = Spec::of("Spectrum").or("\"type_1\"");
    }
}

record! {
    /// The shaking the building must survive, 5 % damped and for the chosen hazard and site.
    pub struct GroundMotion {
        /// What the shaking is, in words: source, return period, site class.
        note: String = Spec::text("Hazard", 200).or("\"\"");
        /// Short-period spectral acceleration with site effects, g.
        sxs_g: f64 = Spec::number("Plateau S_XS", Gravity, 0.05, 3.0, 0.05).slider();
        /// One-second spectral acceleration with site effects, g.
        sx1_g: f64 = Spec::number("One-second S_X1", Gravity, 0.02, 3.0, 0.05).slider();
        /// Long-period transition, s.
        tl_s: f64 = Spec::number("Long-period transition", Seconds, 1.0, 16.0, 1.0).or("8");
        /// Ground acceleration and ground type, used instead of the two ordinates.
        by_ground: Option<GroundAcceleration> = Spec::of("Ground acceleration and type instead");
        /// Damping ratio.
        damping: f64 = Spec::number("Damping", Share, 0.01, 0.3, 0.01).or("0.05");
        /// Importance factor on the spectrum.
        importance: f64 = Spec::number("Importance factor", Number, 0.5, 2.0, 0.05).or("1");
        /// How well the building must come through.
        objective: Objective = Spec::of("Objective").or("\"life_safety\"");
        /// A spectrum of (period, acceleration) used instead of all above.
        table: Vec<SpectrumPoint> = Spec::list("Spectrum table", 0, 400).or("[]");
    }
}
