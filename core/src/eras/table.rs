//! The figures: by practice and era, each with its range and where it comes from.
//!
//! Typical values lie on the weaker side of what was usual, for they stand in for drawings that
//! are not found. Where a table of a standard gives lower bounds, they are those.

use crate::project::{Feature, Practice};
use crate::works::rates::Mark;

/// Typical value, lowest and highest usual one.
pub(super) type Band = [f64; 3];

/// Features whose figures depend on the era; the others depend on the use.
pub(super) const BY_ERA: usize = 13;

/// What was usual from a year on until the next era of the practice.
pub(super) struct Figures {
    /// The first year.
    pub from: u32,
    /// The kind of bars.
    pub bars: &'static str,
    /// By feature, in the order of [`Feature`]: concrete, bars and hoops in MPa, bars of columns as
    /// a share of the section, cover, hoop diameter and spacing in mm, hooks in degrees, laps in bar
    /// diameters (none: 0), stirrup diameter and spacing in mm, masonry in MPa.
    pub of: [Band; BY_ERA],
}

/// A practice.
pub(super) struct Practised {
    /// Its eras.
    pub eras: &'static [Figures],
    /// Live load of floors by use, kPa: school, clinic, office, other.
    pub live_kpa: [Band; 4],
    /// Its share in the seismic weight.
    pub live_share: [Band; 4],
}

/// The table of a practice.
pub(super) const fn of(practice: Practice) -> &'static Practised {
    match practice {
        Practice::NorthAmerica => &NORTH_AMERICA,
        Practice::Europe => &EUROPE,
        Practice::Japan => &JAPAN,
        Practice::Other => &OTHER,
    }
}

const PLAIN: &str = "plain bars";
const MIXED: &str = "plain bars, deformed ones coming in";
const DEFORMED: &str = "deformed bars";

const RIGHT: Band = [90.0, 90.0, 90.0];
const RIGHT_OR_SEISMIC: Band = [90.0, 90.0, 135.0];
const SEISMIC_OR_RIGHT: Band = [135.0, 90.0, 135.0];
const SEISMIC: Band = [135.0, 135.0, 135.0];

#[rustfmt::skip]
static NORTH_AMERICA: Practised = Practised {
    eras: &[
        Figures { from: 1880, bars: MIXED, of: [
            [10.0, 10.0, 20.5], [227.0, 227.0, 345.0], [227.0, 227.0, 345.0], [0.008, 0.005, 0.02],
            [38.0, 25.0, 50.0], [6.0, 6.0, 10.0], [300.0, 200.0, 460.0], RIGHT, [24.0, 20.0, 40.0],
            [10.0, 6.0, 10.0], [300.0, 150.0, 400.0], [2.1, 2.1, 6.2], [0.09, 0.09, 0.19],
        ] },
        Figures { from: 1920, bars: MIXED, of: [
            [13.5, 13.5, 27.5], [227.0, 227.0, 345.0], [227.0, 227.0, 345.0], [0.01, 0.005, 0.03],
            [38.0, 25.0, 50.0], [6.0, 6.0, 10.0], [300.0, 200.0, 460.0], RIGHT, [24.0, 20.0, 40.0],
            [10.0, 6.0, 10.0], [300.0, 150.0, 400.0], [4.1, 2.1, 6.2], [0.13, 0.09, 0.19],
        ] },
        Figures { from: 1950, bars: DEFORMED, of: [
            [20.5, 20.5, 41.0], [227.0, 227.0, 345.0], [227.0, 227.0, 345.0], [0.01, 0.01, 0.03],
            [38.0, 25.0, 50.0], [6.0, 6.0, 10.0], [300.0, 200.0, 460.0], RIGHT, [24.0, 20.0, 36.0],
            [10.0, 6.0, 10.0], [250.0, 150.0, 400.0], [4.1, 2.1, 6.2], [0.13, 0.09, 0.19],
        ] },
        Figures { from: 1960, bars: DEFORMED, of: [
            [20.5, 20.5, 41.0], [275.0, 227.0, 517.0], [275.0, 227.0, 414.0], [0.01, 0.01, 0.03],
            [38.0, 25.0, 50.0], [6.0, 6.0, 10.0], [300.0, 200.0, 460.0], RIGHT, [24.0, 20.0, 36.0],
            [10.0, 6.0, 10.0], [250.0, 150.0, 400.0], [4.1, 2.1, 6.2], [0.13, 0.09, 0.19],
        ] },
        Figures { from: 1972, bars: DEFORMED, of: [
            [20.5, 20.5, 68.5], [275.0, 275.0, 517.0], [275.0, 275.0, 414.0], [0.01, 0.01, 0.03],
            [38.0, 25.0, 50.0], [10.0, 10.0, 13.0], [200.0, 100.0, 300.0], RIGHT_OR_SEISMIC, [30.0, 24.0, 48.0],
            [10.0, 10.0, 13.0], [200.0, 100.0, 300.0], [4.1, 2.1, 6.2], [0.13, 0.09, 0.19],
        ] },
        Figures { from: 1990, bars: DEFORMED, of: [
            [20.5, 20.5, 68.5], [275.0, 275.0, 517.0], [275.0, 275.0, 414.0], [0.01, 0.01, 0.03],
            [38.0, 25.0, 50.0], [10.0, 10.0, 13.0], [100.0, 75.0, 200.0], SEISMIC_OR_RIGHT, [48.0, 30.0, 60.0],
            [10.0, 10.0, 13.0], [150.0, 75.0, 250.0], [4.1, 2.1, 6.2], [0.13, 0.09, 0.19],
        ] },
    ],
    live_kpa: [[1.92, 1.92, 3.83], [1.92, 1.92, 3.83], [2.4, 2.4, 3.83], [2.4, 1.92, 4.79]],
    live_share: [[0.25, 0.0, 0.25]; 4],
};

#[rustfmt::skip]
static EUROPE: Practised = Practised {
    eras: &[
        Figures { from: 1880, bars: PLAIN, of: [
            [10.0, 7.0, 15.0], [220.0, 200.0, 260.0], [220.0, 200.0, 260.0], [0.008, 0.005, 0.015],
            [15.0, 10.0, 25.0], [6.0, 5.0, 8.0], [250.0, 150.0, 350.0], RIGHT, [30.0, 20.0, 40.0],
            [6.0, 6.0, 10.0], [250.0, 150.0, 400.0], [2.5, 1.0, 5.0], [0.1, 0.05, 0.2],
        ] },
        Figures { from: 1930, bars: PLAIN, of: [
            [12.0, 8.0, 18.0], [220.0, 200.0, 340.0], [220.0, 200.0, 260.0], [0.008, 0.005, 0.015],
            [15.0, 10.0, 25.0], [6.0, 5.0, 8.0], [250.0, 150.0, 350.0], RIGHT, [30.0, 20.0, 40.0],
            [6.0, 6.0, 10.0], [250.0, 150.0, 400.0], [2.5, 1.0, 5.0], [0.1, 0.05, 0.2],
        ] },
        Figures { from: 1950, bars: MIXED, of: [
            [14.0, 10.0, 20.0], [220.0, 215.0, 420.0], [220.0, 215.0, 260.0], [0.008, 0.005, 0.015],
            [20.0, 15.0, 30.0], [6.0, 6.0, 8.0], [250.0, 150.0, 300.0], RIGHT, [30.0, 20.0, 40.0],
            [6.0, 6.0, 10.0], [250.0, 150.0, 350.0], [3.0, 1.5, 6.0], [0.12, 0.05, 0.25],
        ] },
        Figures { from: 1970, bars: DEFORMED, of: [
            [20.0, 15.0, 25.0], [375.0, 215.0, 430.0], [220.0, 215.0, 430.0], [0.01, 0.006, 0.02],
            [20.0, 15.0, 30.0], [8.0, 6.0, 10.0], [200.0, 120.0, 250.0], RIGHT, [40.0, 30.0, 50.0],
            [8.0, 6.0, 10.0], [200.0, 120.0, 300.0], [3.0, 1.5, 6.0], [0.12, 0.05, 0.25],
        ] },
        Figures { from: 1985, bars: DEFORMED, of: [
            [20.0, 16.0, 30.0], [430.0, 400.0, 500.0], [430.0, 215.0, 500.0], [0.01, 0.008, 0.03],
            [25.0, 20.0, 35.0], [8.0, 6.0, 10.0], [150.0, 100.0, 200.0], RIGHT_OR_SEISMIC, [50.0, 40.0, 60.0],
            [8.0, 6.0, 10.0], [150.0, 100.0, 250.0], [3.0, 1.5, 6.0], [0.15, 0.05, 0.3],
        ] },
        Figures { from: 2004, bars: DEFORMED, of: [
            [25.0, 20.0, 40.0], [450.0, 430.0, 500.0], [450.0, 430.0, 500.0], [0.01, 0.01, 0.04],
            [30.0, 25.0, 40.0], [8.0, 6.0, 12.0], [100.0, 75.0, 150.0], SEISMIC_OR_RIGHT, [60.0, 40.0, 70.0],
            [8.0, 6.0, 12.0], [120.0, 75.0, 200.0], [3.0, 1.5, 6.0], [0.15, 0.05, 0.3],
        ] },
    ],
    live_kpa: [[3.0, 2.0, 3.0], [2.0, 1.5, 3.0], [3.0, 2.0, 3.0], [3.0, 2.0, 5.0]],
    live_share: [[0.6, 0.3, 0.6], [0.3, 0.15, 0.3], [0.3, 0.15, 0.3], [0.3, 0.15, 0.6]],
};

#[rustfmt::skip]
static JAPAN: Practised = Practised {
    eras: &[
        Figures { from: 1880, bars: PLAIN, of: [
            [13.5, 9.0, 18.0], [235.0, 210.0, 260.0], [235.0, 210.0, 260.0], [0.01, 0.006, 0.02],
            [30.0, 20.0, 40.0], [9.0, 6.0, 9.0], [300.0, 200.0, 300.0], RIGHT, [30.0, 25.0, 40.0],
            [9.0, 6.0, 9.0], [300.0, 200.0, 300.0], [3.0, 2.0, 6.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1950, bars: PLAIN, of: [
            [15.0, 13.5, 18.0], [235.0, 235.0, 260.0], [235.0, 235.0, 260.0], [0.01, 0.008, 0.02],
            [30.0, 20.0, 40.0], [9.0, 6.0, 9.0], [250.0, 200.0, 300.0], RIGHT, [35.0, 25.0, 40.0],
            [9.0, 6.0, 9.0], [250.0, 200.0, 300.0], [3.0, 2.0, 6.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1960, bars: MIXED, of: [
            [18.0, 13.5, 21.0], [235.0, 235.0, 345.0], [235.0, 235.0, 295.0], [0.01, 0.008, 0.02],
            [30.0, 25.0, 40.0], [9.0, 9.0, 10.0], [250.0, 150.0, 300.0], RIGHT, [35.0, 0.0, 40.0],
            [9.0, 9.0, 10.0], [250.0, 150.0, 300.0], [4.0, 2.0, 6.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1972, bars: DEFORMED, of: [
            [21.0, 18.0, 24.0], [295.0, 235.0, 345.0], [235.0, 235.0, 295.0], [0.01, 0.008, 0.025],
            [30.0, 30.0, 40.0], [10.0, 9.0, 13.0], [100.0, 100.0, 150.0], RIGHT_OR_SEISMIC, [0.0, 0.0, 40.0],
            [10.0, 9.0, 13.0], [200.0, 100.0, 250.0], [4.0, 2.0, 6.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1982, bars: DEFORMED, of: [
            [21.0, 21.0, 30.0], [345.0, 295.0, 390.0], [295.0, 295.0, 345.0], [0.012, 0.008, 0.03],
            [30.0, 30.0, 40.0], [10.0, 10.0, 13.0], [100.0, 75.0, 100.0], SEISMIC, [0.0, 0.0, 45.0],
            [10.0, 10.0, 13.0], [150.0, 100.0, 200.0], [4.0, 2.0, 8.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 2000, bars: DEFORMED, of: [
            [24.0, 21.0, 36.0], [345.0, 345.0, 390.0], [295.0, 295.0, 345.0], [0.012, 0.008, 0.03],
            [30.0, 30.0, 40.0], [13.0, 10.0, 13.0], [100.0, 75.0, 100.0], SEISMIC, [0.0, 0.0, 45.0],
            [10.0, 10.0, 13.0], [150.0, 100.0, 200.0], [4.0, 2.0, 8.0], [0.1, 0.05, 0.3],
        ] },
    ],
    live_kpa: [[2.1, 1.1, 2.3], [1.3, 0.6, 1.8], [1.8, 0.8, 2.9], [1.8, 0.6, 3.5]],
    live_share: [[0.52, 0.48, 0.52], [0.46, 0.33, 0.46], [0.44, 0.28, 0.44], [0.44, 0.28, 0.65]],
};

#[rustfmt::skip]
static OTHER: Practised = Practised {
    eras: &[
        Figures { from: 1880, bars: PLAIN, of: [
            [10.0, 7.0, 27.5], [220.0, 200.0, 345.0], [220.0, 200.0, 345.0], [0.008, 0.005, 0.03],
            [15.0, 10.0, 50.0], [6.0, 5.0, 10.0], [300.0, 150.0, 460.0], RIGHT, [24.0, 20.0, 40.0],
            [6.0, 6.0, 10.0], [300.0, 150.0, 400.0], [2.1, 1.0, 6.2], [0.09, 0.05, 0.3],
        ] },
        Figures { from: 1950, bars: MIXED, of: [
            [14.0, 10.0, 41.0], [220.0, 215.0, 517.0], [220.0, 215.0, 430.0], [0.008, 0.005, 0.03],
            [20.0, 15.0, 50.0], [6.0, 6.0, 10.0], [300.0, 100.0, 460.0], RIGHT, [24.0, 0.0, 48.0],
            [6.0, 6.0, 10.0], [250.0, 100.0, 400.0], [3.0, 1.5, 6.2], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1975, bars: DEFORMED, of: [
            [18.0, 15.0, 68.5], [275.0, 215.0, 517.0], [220.0, 215.0, 430.0], [0.01, 0.006, 0.03],
            [20.0, 15.0, 50.0], [8.0, 6.0, 13.0], [200.0, 75.0, 300.0], RIGHT_OR_SEISMIC, [30.0, 0.0, 50.0],
            [8.0, 6.0, 13.0], [200.0, 100.0, 300.0], [3.0, 1.5, 8.0], [0.1, 0.05, 0.3],
        ] },
        Figures { from: 1990, bars: DEFORMED, of: [
            [20.0, 16.0, 68.5], [275.0, 275.0, 517.0], [220.0, 215.0, 500.0], [0.01, 0.008, 0.04],
            [25.0, 20.0, 50.0], [8.0, 6.0, 13.0], [150.0, 75.0, 200.0], RIGHT_OR_SEISMIC, [40.0, 0.0, 70.0],
            [8.0, 6.0, 13.0], [150.0, 75.0, 250.0], [3.0, 1.5, 8.0], [0.1, 0.05, 0.3],
        ] },
    ],
    live_kpa: [[2.4, 1.92, 3.0], [2.0, 1.3, 3.0], [2.4, 1.8, 3.0], [2.4, 1.8, 5.0]],
    live_share: [[0.3, 0.25, 0.6]; 4],
};

/// Where the figures of a feature come from.
pub(super) const fn source(feature: Feature, practice: Practice) -> (Mark, &'static str) {
    use Feature::{
        ColumnBars, Concrete, Cover, Hoop, HoopSpacing, HoopSteel, Lap, Live, LiveShare, MasonryCompression,
        MasonryShear, Steel,
    };
    use Mark::{CommonPractice, Memory, Seen};
    match (practice, feature) {
        (Practice::NorthAmerica, Concrete) => (Memory, "ASCE/SEI 41-17 table 10-2, columns, lower bound"),
        (Practice::NorthAmerica, Steel | HoopSteel) => (Memory, "ASCE/SEI 41-17 table 10-3, lowest usual grade"),
        (Practice::NorthAmerica, Cover) => (Memory, "ACI 318, over ties"),
        (Practice::NorthAmerica, Hoop | HoopSpacing) => {
            (Memory, "ACI 318-63: 16 bar or 48 tie diameters; -71: No. 3 ties; later its seismic chapter")
        }
        (Practice::NorthAmerica, Lap) => {
            (Memory, "ACI 318-63 and -71: 20 to 30 diameters in compression; -89 in tension")
        }
        (Practice::NorthAmerica, MasonryCompression | MasonryShear) => {
            (Memory, "ASCE/SEI 41-17 table 11-2, poor to good condition")
        }
        (Practice::NorthAmerica, Live) => (Memory, "ASCE/SEI 7-16 table 4.3-1"),
        (Practice::NorthAmerica, LiveShare) => (Memory, "ASCE/SEI 41-17 7.2.2, with gravity load"),
        (Practice::Europe, Concrete) => (Memory, "DIN 1045: B 120 to B 225, from 1972 B 15 to B 35, as cylinders"),
        (Practice::Europe, Steel | HoopSteel) => {
            (Memory, "BSt 220/340 and 420/500 (DIN 488), Aq 42, FeB 22 k to FeB 44 k, B 450 C and B 500")
        }
        (Practice::Europe, Hoop | HoopSpacing) => {
            (Memory, "DIN 1045: 12 bar diameters or the least side; EN 1998-1 5.4.3.2.2")
        }
        (Practice::Europe, Live) => (Memory, "EN 1991-1-1 table 6.2, recommended"),
        (Practice::Europe, LiveShare) => (Memory, "EN 1990 table A1.1, ψ₂"),
        (Practice::Japan, Steel | HoopSteel) => (Memory, "JIS G 3101, from 1964 G 3112: SR 24, SD 30, SD 35"),
        (Practice::Japan, ColumnBars) => (Memory, "Building Standard Law, Enforcement Order art. 77: 0.8 % at least"),
        (Practice::Japan, Cover) => (Memory, "Building Standard Law, Enforcement Order art. 79"),
        (Practice::Japan, Hoop | HoopSpacing) => (Memory, "Enforcement Order art. 77 as amended in 1971"),
        (Practice::Japan, Lap) => (CommonPractice, "later lapped near mid-height or pressure-welded"),
        (Practice::Japan, Live) => (Seen, "Enforcement Order art. 85, for frames"),
        (Practice::Japan, LiveShare) => (Seen, "Enforcement Order art. 85, earthquake ÷ frames"),
        (Practice::Other, _) => (CommonPractice, "on the weak side of the three practices"),
        _ => (CommonPractice, ""),
    }
}
