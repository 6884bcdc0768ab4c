//! Retrofit measures and schemes as the project file describes them (format 1).

use super::building::{Direction, Footing, MAX_LINES, MAX_STOREYS, Opening};
use super::fields::{
    Control, Field, FieldError, Listed, Names, Path, Record, Span, Spec, Wire, choice, read_object, record,
    refuse_unknown_keys,
};
use crate::units::Dimension::{Megapascals, Metres, Millimetres};
use serde_json::{Value, json};

const STOREYS: Spec = Spec::whole("Storeys", 1, MAX_STOREYS);
const BAYS: Spec = Spec::whole("Bays", 1, MAX_LINES - 1);
const X_LINES: Spec = Spec::list("Lines across x", 0, MAX_LINES).or("[]");
const Y_LINES: Spec = Spec::list("Lines across y", 0, MAX_LINES).or("[]");
const NEW_CONCRETE: Spec = Spec::number("New concrete", Megapascals, 17.0, 60.0, 1.0).slider();
const NEW_STEEL: Spec = Spec::number("New bar yield strength", Megapascals, 230.0, 600.0, 5.0).or("420");

choice! {
    /// The faces of a column that get a jacket.
    pub enum JacketFaces {
        /// All four.
        All = "all", "all four faces";
        /// Three, the one towards lower x left as it is.
        ThreeNotLowerX = "not_lower_x", "three faces, not that towards lower x";
        /// Three, the one towards higher x left as it is.
        ThreeNotHigherX = "not_higher_x", "three faces, not that towards higher x";
        /// Three, the one towards lower y left as it is.
        ThreeNotLowerY = "not_lower_y", "three faces, not that towards lower y";
        /// Three, the one towards higher y left as it is.
        ThreeNotHigherY = "not_higher_y", "three faces, not that towards higher y";
        /// Only the one towards lower x.
        LowerX = "lower_x", "one face, towards lower x";
        /// Only the one towards higher x.
        HigherX = "higher_x", "one face, towards higher x";
        /// Only the one towards lower y.
        LowerY = "lower_y", "one face, towards lower y";
        /// Only the one towards higher y.
        HigherY = "higher_y", "one face, towards higher y";
    }
}

record! {
    /// Reinforced-concrete jacket on faces of columns.
    pub struct Jacket {
        /// Lines across x whose columns are jacketed; empty for all.
        x: Names = X_LINES;
        /// Lines across y whose columns are jacketed; empty for all.
        y: Names = Y_LINES;
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREYS;
        /// The faces that get it. With fewer than four its hoops do not close: they are anchored in
        /// the old column, and confine nothing.
        faces: JacketFaces = Spec::of("Faces").or("\"all\"");
        /// Thickness on each face, mm.
        thickness_mm: f64 = Spec::number("Jacket thickness", Millimetres, 60.0, 300.0, 10.0).slider();
        /// New longitudinal bars round the jacket.
        bars: u32 = Spec::whole("Jacket bars", 4, 40).by(4.0).slider();
        /// Diameter of the new bars, mm.
        bar_mm: f64 = Spec::number("Jacket bar diameter", Millimetres, 10.0, 36.0, 1.0).slider();
        /// Diameter of the new hoops, mm.
        hoop_mm: f64 = Spec::number("Jacket hoop diameter", Millimetres, 8.0, 16.0, 1.0);
        /// Spacing of the new hoops, mm.
        hoop_spacing_mm: f64 = Spec::number("Jacket hoop spacing", Millimetres, 50.0, 300.0, 10.0).slider();
        /// New concrete strength, MPa.
        concrete_mpa: f64 = NEW_CONCRETE;
        /// New bar yield strength, MPa.
        steel_mpa: f64 = NEW_STEEL;
        /// Whether the new bars pass through the floors and are anchored; otherwise a gap
        /// is left at both ends and only shear strength and ductility are gained.
        continuous: bool = Spec::of("Bars continuous through floors").or("true");
        /// Whether the column is relieved of its load, by jacks under the floors, before the jacket
        /// is cast; otherwise that load stays on the old column alone.
        relieved: bool = Spec::of("Column relieved of its load before casting").or("false");
        /// Surface of the old column.
        surface: Surface = Spec::of("Surface of the old column").or("\"roughened\"");
        /// Embedment in the old column of the bars that anchor the hoops of a jacket on fewer than
        /// four faces, mm; those hoops are not counted where left out.
        hoop_embedment_mm: Option<f64> = Spec::number("Hoops anchored in the column by", Millimetres, 60.0, 800.0, 10.0);
    }
}

choice! {
    /// The sides of a column that get a wing wall.
    pub enum Sides {
        /// Both sides.
        Both = "both", "both sides";
        /// Only the side towards higher ordinates.
        Higher = "higher", "one side, towards the next line";
        /// Only the side towards lower ordinates.
        Lower = "lower", "one side, towards the line before";
    }
}

record! {
    /// Wing walls beside columns.
    pub struct WingWall {
        /// Lines across x whose columns get wings; empty for all.
        x: Names = X_LINES;
        /// Lines across y whose columns get wings; empty for all.
        y: Names = Y_LINES;
        /// The direction the wings stretch in.
        direction: Direction = Spec::of("Direction");
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREYS;
        /// Which sides.
        sides: Sides = Spec::of("Sides").or("\"both\"");
        /// Length of each wing, mm.
        length_mm: f64 = Spec::number("Wing length", Millimetres, 200.0, 2000.0, 50.0).slider();
        /// Thickness, mm.
        thickness_mm: f64 = Spec::number("Wing thickness", Millimetres, 120.0, 400.0, 10.0).slider();
        /// Diameter of the wing's bars, mm.
        bar_mm: f64 = Spec::number("Wing bar diameter", Millimetres, 8.0, 25.0, 1.0);
        /// Spacing of the wing's bars in two curtains, mm.
        bar_spacing_mm: f64 = Spec::number("Wing bar spacing", Millimetres, 80.0, 300.0, 10.0).slider();
        /// New concrete strength, MPa.
        concrete_mpa: f64 = NEW_CONCRETE;
        /// New bar yield strength, MPa.
        steel_mpa: f64 = NEW_STEEL;
        /// Embedment of the wing's horizontal bars in the column, mm; the strength of that
        /// joint is withheld where left out.
        edge_embedment_mm: Option<f64> = Spec::number("Embedment in the column", Millimetres, 60.0, 800.0, 10.0);
        /// Embedment of the wing's vertical bars in the beams above and below, mm;
        /// they count in bending only as far as it develops them.
        embedment_mm: f64 = Spec::number("Bar embedment", Millimetres, 0.0, 800.0, 10.0).or("0");
        /// New footing under each column with its wings, centred on the column, length along the
        /// wings; where left out only the load on the column holds its foot down, or what the old
        /// column alone brings to its footing.
        footing: Option<Footing> = Spec::of("Footing under each column");
    }
}

record! {
    /// Reinforced-concrete walls cast into bays of the frame.
    pub struct InfillWall {
        /// The grid line.
        line: String = Spec { min: 1.0, ..Spec::text("Line", 4) };
        /// First and last bay.
        bays: Span = BAYS;
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREYS;
        /// Thickness, mm.
        thickness_mm: f64 = Spec::number("Wall thickness", Millimetres, 120.0, 500.0, 10.0).slider();
        /// Diameter of the wall's bars, mm.
        bar_mm: f64 = Spec::number("Wall bar diameter", Millimetres, 8.0, 25.0, 1.0);
        /// Spacing of the wall's bars both ways in two curtains, mm.
        bar_spacing_mm: f64 = Spec::number("Wall bar spacing", Millimetres, 80.0, 300.0, 10.0).slider();
        /// Diameter of the bars bonded into beams and columns round the wall, mm.
        dowel_mm: f64 = Spec::number("Dowel diameter", Millimetres, 10.0, 25.0, 1.0);
        /// Spacing of those bars, mm.
        dowel_spacing_mm: f64 = Spec::number("Dowel spacing", Millimetres, 80.0, 500.0, 10.0).slider();
        /// Embedment of those bars, mm.
        dowel_embedment_mm: f64 = Spec::number("Dowel embedment", Millimetres, 60.0, 500.0, 10.0).slider();
        /// New concrete strength, MPa.
        concrete_mpa: f64 = NEW_CONCRETE;
        /// New bar yield strength, MPa.
        steel_mpa: f64 = NEW_STEEL;
        /// Opening, centred in each panel.
        opening: Option<Opening> = Spec::of("Opening");
        /// Footing; a gravity-only rocking limit is used where left out.
        footing: Option<Footing> = Spec::of("Footing");
    }
}

choice! {
    /// Surface of old concrete at a joint with new.
    pub enum Surface {
        /// Roughened to about 6 mm.
        Roughened = "roughened", "roughened";
        /// Clean but not roughened.
        Plain = "plain", "not roughened";
    }
}

choice! {
    /// What limits the strength of an external frame, which sets a strength reduction.
    pub enum FrameLimit {
        /// Its own bending mechanism.
        Flexure = "flexure", "its bending mechanism";
        /// Something else.
        Other = "other", "not its bending mechanism";
    }
}

record! {
    /// A frame outside one face, tied to it floor by floor with connecting slabs.
    pub struct ExternalFrame {
        /// The outer grid line it stands in front of.
        face: String = Spec { min: 1.0, ..Spec::text("Face", 4) };
        /// First and last bay of that face.
        bays: Span = BAYS;
        /// Storeys up to which it rises; all where left out.
        storeys: Option<u32> = STOREYS;
        /// Clear width of the connecting slab between the building's edge beam and the new beam, m.
        gap_m: f64 = Spec::number("Clear gap", Metres, 0.1, 4.0, 0.05).slider();
        /// Column size along the face, mm.
        column_along_mm: f64 = Spec::number("Column along the face", Millimetres, 300.0, 1500.0, 25.0).slider();
        /// Column size across the face, mm.
        column_across_mm: f64 = Spec::number("Column across the face", Millimetres, 300.0, 1500.0, 25.0).slider();
        /// Column bars in all.
        column_bars: u32 = Spec::whole("Column bars", 4, 40).by(4.0);
        /// Diameter of column bars, mm.
        column_bar_mm: f64 = Spec::number("Column bar diameter", Millimetres, 12.0, 40.0, 1.0).slider();
        /// Diameter of column hoops, mm.
        hoop_mm: f64 = Spec::number("Hoop diameter", Millimetres, 8.0, 16.0, 1.0).or("12");
        /// Spacing of column hoops, mm.
        hoop_spacing_mm: f64 = Spec::number("Hoop spacing", Millimetres, 50.0, 300.0, 10.0).or("100");
        /// Beam width, mm.
        beam_width_mm: f64 = Spec::number("Beam width", Millimetres, 200.0, 1200.0, 25.0);
        /// Beam depth, mm.
        beam_depth_mm: f64 = Spec::number("Beam depth", Millimetres, 250.0, 1500.0, 25.0).slider();
        /// Beam bars, top and bottom each.
        beam_bars: u32 = Spec::whole("Beam bars, each face", 2, 16);
        /// Diameter of beam bars, mm.
        beam_bar_mm: f64 = Spec::number("Beam bar diameter", Millimetres, 10.0, 36.0, 1.0);
        /// New concrete strength, MPa.
        concrete_mpa: f64 = NEW_CONCRETE;
        /// New bar yield strength, MPa.
        steel_mpa: f64 = NEW_STEEL;
        /// Thickness of the connecting slab, mm.
        slab_mm: f64 = Spec::number("Slab thickness", Millimetres, 120.0, 500.0, 10.0).slider();
        /// Drop of the slab's top below the top of the existing beam, mm.
        slab_drop_mm: f64 = Spec::number("Slab below beam top", Millimetres, 0.0, 600.0, 10.0).or("0");
        /// Length of openings in the slab along the face, over the frame's bays, m.
        slab_openings_m: f64 = Spec::number("Openings in the slab", Metres, 0.0, 100.0, 0.1).or("0");
        /// Diameter of the slab's bars across the joint, bonded into the existing beam, mm.
        across_bar_mm: f64 = Spec::number("Bars across the joint", Millimetres, 10.0, 25.0, 1.0).slider();
        /// Spacing of those bars, mm.
        across_spacing_mm: f64 = Spec::number("Spacing across the joint", Millimetres, 60.0, 400.0, 10.0).slider();
        /// Layers of those bars.
        across_layers: u32 = Spec::whole("Layers across the joint", 1, 2).or("1");
        /// Embedment of those bars in the existing beam, mm.
        embedment_mm: f64 = Spec::number("Embedment", Millimetres, 60.0, 900.0, 10.0).slider();
        /// Diameter of the slab's bars along the face, mm.
        along_bar_mm: f64 = Spec::number("Bars along the face", Millimetres, 8.0, 25.0, 1.0);
        /// Spacing of those bars in two layers, mm.
        along_spacing_mm: f64 = Spec::number("Spacing along the face", Millimetres, 60.0, 400.0, 10.0).slider();
        /// Surface of the existing beam's side.
        surface: Surface = Spec::of("Surface").or("\"roughened\"");
        /// Pad under each column, length along the face; a gravity-only rocking limit is
        /// used where left out.
        footing: Option<Footing> = Spec::of("Footing");
    }
}

record! {
    /// Sill walls cut free from the columns beside them.
    pub struct Release {
        /// Lines across x whose columns are freed; empty for all.
        x: Names = X_LINES;
        /// Lines across y whose columns are freed; empty for all.
        y: Names = Y_LINES;
        /// First and last storey; all where left out.
        storeys: Option<Span> = STOREYS;
        /// Width of the gap, mm; shut once the storey's drift over the sill exceeds it.
        gap_mm: f64 = Spec::number("Gap", Millimetres, 10.0, 100.0, 5.0).slider();
    }
}

/// Declares the list of measures once: the enum, its kinds and every dispatch.
macro_rules! measures {
    ($( $(#[$meta:meta])* $variant:ident($record:ty) = $key:literal, $label:literal; )*) => {
        /// One measure of a scheme.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Measure { $( $(#[$meta])* $variant($record), )* }

        impl Measure {
            /// Every kind: (key in the file, label on the page).
            pub const KINDS: &'static [(&'static str, &'static str)] = &[ $( ($key, $label), )* ];

            /// Key of its kind in the file.
            pub const fn kind(&self) -> &'static str {
                match self { $( Self::$variant(_) => $key, )* }
            }

            /// Name of its kind on the page.
            pub const fn label(&self) -> &'static str {
                match self { $( Self::$variant(_) => $label, )* }
            }

            /// Its table of fields.
            pub const fn fields(&self) -> &'static [Field] {
                match self { $( Self::$variant(_) => <$record>::FIELDS, )* }
            }

            /// The value of a field, as the file holds it.
            pub fn get(&self, key: &str) -> Option<Value> {
                match self { $( Self::$variant(record) => record.get(key), )* }
            }

            /// Replaces one field after checking it alone; unchanged on error.
            pub fn set(&mut self, key: &str, value: &Value) -> Result<(), FieldError> {
                match self { $( Self::$variant(record) => record.set(key, value), )* }
            }
        }

        impl Wire for Measure {
            const CONTROL: Control = Control::Part;

            fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
                let object = read_object(value, at)?;
                let kinds = || [ $( $key ),* ].join(", ");
                let here = Path::Key(at, "kind");
                let kind = object.get("kind").ok_or_else(|| FieldError {
                    path: here.to_string(), value: String::new(), problem: "missing".into(), permitted: kinds().into(),
                })?;
                let mut rest = object.clone();
                rest.remove("kind");
                match kind.as_str() {
                    $( Some($key) => {
                        refuse_unknown_keys(&rest, at, <$record>::FIELDS.iter().map(|field| field.key))?;
                        <$record>::read(&Value::Object(rest), at, spec).map(Self::$variant)
                    } )*
                    _ => Err(FieldError::new(&here, kind, "not a known measure", kinds())),
                }
            }

            fn write(&self) -> Option<Value> {
                let (kind, body) = match self { $( Self::$variant(record) => ($key, record.write()), )* };
                let mut object = serde_json::Map::new();
                object.insert("kind".to_owned(), json!(kind));
                if let Some(Value::Object(fields)) = body {
                    object.extend(fields);
                }
                Some(Value::Object(object))
            }

            fn schema(spec: &Spec) -> Value {
                let kinds = [ $( {
                    let mut schema = <$record>::schema(spec);
                    schema["properties"]["kind"] = json!({"const": $key});
                    if let Some(required) = schema["required"].as_array_mut() {
                        required.insert(0, json!("kind"));
                    }
                    schema
                } ),* ];
                json!({"oneOf": kinds})
            }
        }
    };
}

measures! {
    /// Column jacketing.
    Jacket(Jacket) = "jacket", "Column jackets";
    /// Wing walls.
    WingWall(WingWall) = "wing_wall", "Wing walls";
    /// Infill shear walls.
    InfillWall(InfillWall) = "infill_wall", "Infill walls";
    /// An external frame.
    ExternalFrame(ExternalFrame) = "external_frame", "External frame";
    /// Release of captive columns.
    Release(Release) = "release", "Release of captive columns";
}

impl Listed for Measure {}

record! {
    /// A named retrofit scheme.
    pub struct Scheme {
        /// Name.
        name: String = Spec { min: 1.0, ..Spec::text("Name", 80) };
        /// A remark.
        note: String = Spec::text("Remark", 400).or("\"\"");
        /// Its measures; none leaves the building as it stands.
        measures: Vec<Measure> = Spec::list("Measures", 0, 24);
    }
}
