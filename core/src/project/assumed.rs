//! What of the building is assumed, typical of its time (format 1).

use super::fields::{Control, FieldError, Path, Spec, Wire, choice, list_schema, read_list, record};
use crate::units::Dimension::Year;
use serde_json::{Value, json};

choice! {
    /// Where the practice a building was put up by was at home. It is not the rule set: that one
    /// computes, this one tells what is likely to be there.
    pub enum Practice {
        /// The United States and Canada.
        NorthAmerica = "north_america", "North America";
        /// The continent of Europe.
        Europe = "europe", "Continental Europe";
        /// Japan.
        Japan = "japan", "Japan";
        /// Elsewhere, or nobody knows.
        Other = "other", "other or not known";
    }
}

choice! {
    /// What of a building is typical of its time. The order is that of the tables in `eras`.
    pub enum Feature {
        /// Concrete strength.
        Concrete = "concrete", "Concrete strength";
        /// Yield strength of longitudinal bars.
        Steel = "steel", "Bar yield strength";
        /// Yield strength of hoops and stirrups.
        HoopSteel = "hoop_steel", "Hoop yield strength";
        /// Longitudinal bars of columns.
        ColumnBars = "column_bars", "Bars of columns, share of section";
        /// Cover of columns and beams.
        Cover = "cover", "Cover to hoops and stirrups";
        /// Diameter of hoops.
        Hoop = "hoop", "Hoop diameter";
        /// Spacing of hoops.
        HoopSpacing = "hoop_spacing", "Hoop spacing";
        /// How hoops end.
        Hooks = "hooks", "Hooks of hoops";
        /// Laps of column bars above the floors.
        Lap = "lap", "Laps of columns above floors";
        /// Diameter of stirrups.
        Stirrup = "stirrup", "Stirrup diameter";
        /// Spacing of stirrups.
        StirrupSpacing = "stirrup_spacing", "Stirrup spacing";
        /// Compressive strength of masonry.
        MasonryCompression = "masonry_compression", "Masonry in compression";
        /// Bed-joint shear strength of masonry.
        MasonryShear = "masonry_shear", "Masonry in shear";
        /// Live load of floors below the roof.
        Live = "live", "Live load of floors";
        /// Share of the live load in the seismic weight.
        LiveShare = "live_share", "Live load in seismic weight";
    }
}

/// Values as the building holds them: MPa, mm, mm² of bars, kPa, shares, degrees.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Values(pub Vec<f64>);

const VALUE: Spec = Spec::of("Value");
const WITHIN: Spec = Spec { max: 1e6, ..VALUE };

impl Wire for Values {
    const CONTROL: Control = Control::Part;
    fn read(value: &Value, at: &Path<'_>, spec: &Spec) -> Result<Self, FieldError> {
        read_list(value, at, spec, |item, at| f64::read(item, at, &WITHIN)).map(Self)
    }
    fn write(&self) -> Option<Value> {
        Some(json!(self.0))
    }
    fn schema(spec: &Spec) -> Value {
        list_schema(spec, f64::schema(&WITHIN))
    }
}

record! {
    /// A feature that was taken as typical of its time. It stays assumed where the building still
    /// holds one of the values that were taken.
    pub struct Assumed {
        /// Which.
        feature: Feature = Spec::of("Feature");
        /// By which practice.
        practice: Practice = Spec::of("Practice");
        /// Typical of which year.
        year: u32 = Spec { dimension: Year, ..Spec::whole("Year", 1880, 2100) };
        /// The values taken.
        values: Values = Spec::list("Values", 1, 120);
    }
}
