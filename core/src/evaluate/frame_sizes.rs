//! Sizes and bars of external frames that go together: what the sizing aid offers.

use crate::link::columns_over_beams;
use crate::material::Bar;
use crate::model::Model;
use crate::project::{ExternalFrame, FieldError, Measure, Project};
use crate::rules::{FrameProportions, Ruled, Rules};
use crate::section_shapes::PerimeterBars;
use crate::sections::{NEW_COVER_MM, Sections};
use crate::units::System;

/// Sizes and bars of a frame's columns and beams.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameSizes {
    /// Column along the face, mm.
    pub column_along_mm: f64,
    /// Column across the face, mm.
    pub column_across_mm: f64,
    /// Column bars in all.
    pub column_bars: u32,
    /// Their diameter, mm.
    pub column_bar_mm: f64,
    /// Beam width, mm.
    pub beam_width_mm: f64,
    /// Beam depth, mm.
    pub beam_depth_mm: f64,
    /// Beam bars, top and bottom each.
    pub beam_bars: u32,
    /// Their diameter, mm.
    pub beam_bar_mm: f64,
}

impl FrameSizes {
    /// Keys of the fields of an external frame that hold them, in the order of the form.
    pub const KEYS: [&'static str; 8] = [
        "column_along_mm",
        "column_across_mm",
        "column_bars",
        "column_bar_mm",
        "beam_width_mm",
        "beam_depth_mm",
        "beam_bars",
        "beam_bar_mm",
    ];

    /// Those of a frame.
    pub fn of(frame: &ExternalFrame) -> Self {
        Self {
            column_along_mm: frame.column_along_mm,
            column_across_mm: frame.column_across_mm,
            column_bars: frame.column_bars,
            column_bar_mm: frame.column_bar_mm,
            beam_width_mm: frame.beam_width_mm,
            beam_depth_mm: frame.beam_depth_mm,
            beam_bars: frame.beam_bars,
            beam_bar_mm: frame.beam_bar_mm,
        }
    }

    /// The frame with these sizes.
    pub fn applied(&self, frame: &ExternalFrame) -> ExternalFrame {
        ExternalFrame {
            column_along_mm: self.column_along_mm,
            column_across_mm: self.column_across_mm,
            column_bars: self.column_bars,
            column_bar_mm: self.column_bar_mm,
            beam_width_mm: self.beam_width_mm,
            beam_depth_mm: self.beam_depth_mm,
            beam_bars: self.beam_bars,
            beam_bar_mm: self.beam_bar_mm,
            ..frame.clone()
        }
    }

    /// Area of the column's bars over the gross section.
    pub fn column_steel(&self) -> f64 {
        f64::from(self.column_bars) * area_mm2(self.column_bar_mm) / (self.column_along_mm * self.column_across_mm)
    }

    /// Area of the beam's bars of one face over the web down to them, inside stirrups of a diameter.
    pub fn beam_steel(&self, stirrup_mm: f64) -> f64 {
        let depth_mm = self.beam_depth_mm - NEW_COVER_MM - stirrup_mm - self.beam_bar_mm / 2.0;
        f64::from(self.beam_bars) * area_mm2(self.beam_bar_mm) / (self.beam_width_mm * depth_mm)
    }
}

/// What sizes are stepped through: whole numbers of the system they are shown in.
struct Offered {
    /// One step of the beam and of the column across, mm; the column along the face grows by two.
    step_mm: f64,
    /// Smallest column along the face, in steps.
    first: u32,
    /// Least width of a beam, in steps.
    least_beam: u32,
    /// Diameters of bars, mm.
    bars_mm: &'static [f64],
}

/// Steps of 25 mm; bars of ISO 6935-2 (MEMORY).
const METRIC: Offered = Offered { step_mm: 25.0, first: 12, least_beam: 10, bars_mm: &[12.0, 16.0, 20.0, 25.0, 32.0] };
/// Whole inches; bars # 4 to # 11 of ASTM A615 (MEMORY).
const INCHES: Offered = Offered {
    step_mm: 25.4,
    first: 12,
    least_beam: 10,
    bars_mm: &[12.7, 15.875, 19.05, 22.225, 25.4, 28.65, 32.26, 35.81],
};

impl Offered {
    const fn of(system: System) -> &'static Self {
        match system {
            System::Si => &METRIC,
            System::Us => &INCHES,
        }
    }

    /// Down to a whole number of steps.
    fn stepped(&self, mm: f64) -> f64 {
        (mm / self.step_mm + 1e-9).floor() * self.step_mm
    }

    /// Least size of a column, mm (ACI 318-19 18.7.2.1(a), 300 mm or 12 in; EN 1998-1 5.4.1.2.2 asks for less;
    /// MEMORY).
    fn least_column_mm(&self) -> f64 {
        f64::from(self.first) * self.step_mm
    }

    /// Least width of a beam, mm (ACI 318-19 18.6.2.1(b), 250 mm or 10 in; MEMORY).
    fn least_beam_mm(&self) -> f64 {
        f64::from(self.least_beam) * self.step_mm
    }
}

/// Smallest bar in columns, mm (common practice, no source).
const COLUMN_BAR_MM: f64 = 15.0;
/// Largest column along the face, mm.
const MOST_ALONG_MM: f64 = 1500.0;
/// Least clear span over the depth of a beam (ACI 318-19 18.6.2.1(a); MEMORY).
const SPAN_TO_DEPTH: f64 = 4.0;
/// Largest part of a storey's height a beam takes (common practice, no source).
const HEIGHT_PART: f64 = 0.35;
/// Beam depth, beam width and column across, over column along, beam depth and column along (common practice, no
/// source).
const SHAPE: [f64; 3] = [0.8, 0.55, 0.7];
/// Least clear distance between bars, mm, and over the diameter of column bars (ACI 318-19 25.2.1, 25.2.3, with
/// 25 mm aggregate; MEMORY).
const APART_MM: f64 = 40.0;
const APART_BARS: f64 = 1.5;
/// Largest distance of column bars held by hoops, from centre to centre, mm (EN 1998-1 5.4.3.2.2(11)b, the stricter
/// of both sets; MEMORY).
const MOST_APART_MM: f64 = 200.0;
/// Beam bars tried over the web, from most to least; those outside the rule set's bounds are left out.
const BEAM_STEEL: [f64; 5] = [0.012, 0.010, 0.008, 0.006, 0.004];
/// Parts that the range of column bars is gone through in.
const COLUMN_PARTS: u32 = 12;

/// What is sized: one external frame of a scheme.
#[derive(Clone, Copy)]
pub(super) struct Sought<'p> {
    pub(super) project: &'p Project,
    pub(super) scheme: usize,
    pub(super) measure: usize,
    pub(super) rules: &'static dyn Rules,
    /// Units the sizes are whole numbers of.
    pub(super) system: System,
}

impl<'p> Sought<'p> {
    /// The frame as the project has it.
    pub(super) fn spec(&self) -> Option<&'p ExternalFrame> {
        match self.project.schemes.get(self.scheme)?.measures.get(self.measure)? {
            Measure::ExternalFrame(own) => Some(own),
            _ => None,
        }
    }

    /// Its place among the external frames of the model.
    pub(super) fn index(&self) -> usize {
        let measures = self.project.schemes.get(self.scheme).map_or(&[][..], |scheme| &scheme.measures);
        measures.iter().take(self.measure).filter(|own| matches!(own, Measure::ExternalFrame(_))).count()
    }

    /// The project with the frame so sized.
    pub(super) fn applied(&self, sizes: &FrameSizes) -> Project {
        let mut project = self.project.clone();
        let measure = project.schemes.get_mut(self.scheme).and_then(|scheme| scheme.measures.get_mut(self.measure));
        if let Some(Measure::ExternalFrame(own)) = measure {
            *own = sizes.applied(own);
        }
        project
    }

    /// Candidates from small to large, each with bars that keep its beams yielding first, and why the last that
    /// was refused was.
    pub(super) fn row(&self, proportions: &FrameProportions) -> Ruled<(Vec<FrameSizes>, Option<FieldError>)> {
        let (mut row, mut refusal) = (Vec::new(), None);
        let offered = Offered::of(self.system);
        let last = (MOST_ALONG_MM / offered.step_mm) as u32;
        for along in (offered.first..=last).step_by(2) {
            let Some(bare) = self.bare(f64::from(along) * offered.step_mm) else { continue };
            let project = self.applied(&bare);
            match project.check() {
                Ok(()) => row.extend(self.barred(&project, bare, proportions)?),
                Err(error) => refusal = Some(error),
            }
        }
        Ok((row, refusal))
    }

    /// Sizes that go with a column, with the fewest bars; `None` where bays or storeys leave no room for such.
    fn bare(&self, along_mm: f64) -> Option<FrameSizes> {
        let building = &self.project.building;
        let spec = self.spec()?;
        let along = match building.line(&spec.face)?.0 {
            crate::project::Direction::X => &building.x_lines,
            crate::project::Direction::Y => &building.y_lines,
        };
        let bays =
            spec.bays.iter().filter_map(|bay| Some(along.get(bay as usize)?.at_m - along[bay as usize - 1].at_m));
        let shortest_mm = 1000.0 * bays.fold(f64::INFINITY, f64::min);
        let heights = building.storeys.iter().map(|storey| storey.height_m);
        let lowest_mm = 1000.0 * heights.fold(f64::INFINITY, f64::min);
        let offered = Offered::of(self.system);
        let (stepped, least_beam_mm) = (|mm: f64| offered.stepped(mm), offered.least_beam_mm());
        let [depth, width, across] = SHAPE;
        let room_mm = ((shortest_mm - along_mm) / SPAN_TO_DEPTH).min(HEIGHT_PART * lowest_mm);
        let beam_depth_mm = stepped((depth * along_mm).max(offered.least_column_mm()).min(room_mm));
        // Beside a column twice as deep a beam no longer makes a frame of it.
        if beam_depth_mm < (0.5 * along_mm).max(least_beam_mm) {
            return None;
        }
        let column_across_mm = stepped((across * along_mm).max(offered.least_column_mm()));
        Some(FrameSizes {
            column_along_mm: along_mm,
            column_across_mm,
            column_bars: 4,
            column_bar_mm: offered.bars_mm[1],
            beam_width_mm: stepped((width * beam_depth_mm).max(least_beam_mm)).min(column_across_mm),
            beam_depth_mm,
            beam_bars: 2,
            beam_bar_mm: offered.bars_mm[0],
        })
    }

    /// The sizes with bars: as much in the beams as is usual, as little in the columns as leaves those stronger;
    /// `None` where no bars within bounds do.
    fn barred(&self, project: &Project, bare: FrameSizes, proportions: &FrameProportions) -> Ruled<Option<FrameSizes>> {
        let Some(scheme) = project.schemes.get(self.scheme) else { return Ok(None) };
        // Bars weigh nothing of their own here, so one model does for all of them.
        let model = Model::new(&project.building, scheme);
        let Some(mut frame) = model.frames.get(self.index()).cloned() else { return Ok(None) };
        let sections = Sections::new(&model, &project.building.materials, self.rules)?;
        let (from, to) = (proportions.column_steel[0], proportions.column_steel[1]);
        let stirrup_mm = frame.spec.hoop_mm;
        let bars_mm = Offered::of(self.system).bars_mm;
        for part in BEAM_STEEL {
            let Some(beamed) = beam_bars(bare, bars_mm, part, stirrup_mm, proportions) else { continue };
            for stage in 0..=COLUMN_PARTS {
                let wanted = from + (to - from) * f64::from(stage) / f64::from(COLUMN_PARTS);
                let Some(sizes) = column_bars(beamed, bars_mm, wanted, to, stirrup_mm) else { continue };
                frame.spec = sizes.applied(&frame.spec);
                let ratio = columns_over_beams(&sections, &frame)?.into_iter().reduce(f64::min);
                if ratio.is_none_or(|ratio| ratio >= proportions.columns_over_beams) {
                    return Ok(Some(sizes));
                }
            }
        }
        Ok(None)
    }
}

/// The fewest beam bars that come to a part of the web, of one diameter and in one layer.
fn beam_bars(
    bare: FrameSizes,
    bars_mm: &[f64],
    part: f64,
    stirrup_mm: f64,
    proportions: &FrameProportions,
) -> Option<FrameSizes> {
    let [least, most] = proportions.beam_steel;
    let all = bars_mm.iter().copied().filter(|bar_mm| bare.column_along_mm >= proportions.column_over_bar * bar_mm);
    let fitting = all.filter_map(|bar_mm| {
        let one = FrameSizes { beam_bars: 1, beam_bar_mm: bar_mm, ..bare };
        let beam_bars = ((part.max(least) / one.beam_steel(stirrup_mm)).ceil() as u32).max(2);
        let sizes = FrameSizes { beam_bars, ..one };
        let taken_mm = f64::from(beam_bars) * (bar_mm + APART_MM.max(bar_mm)) - APART_MM.max(bar_mm);
        let room_mm = bare.beam_width_mm - 2.0 * (NEW_COVER_MM + stirrup_mm);
        (taken_mm <= room_mm && sizes.beam_steel(stirrup_mm) <= most).then_some(sizes)
    });
    fewest(fitting, |sizes| (sizes.beam_bars, sizes.beam_steel(stirrup_mm)))
}

/// The fewest column bars that come to a part of the section, spread round it.
fn column_bars(bare: FrameSizes, bars_mm: &[f64], part: f64, most: f64, hoop_mm: f64) -> Option<FrameSizes> {
    let fitting = bars_mm.iter().copied().filter(|bar_mm| *bar_mm >= COLUMN_BAR_MM).filter_map(|bar_mm| {
        let one = FrameSizes { column_bars: 1, column_bar_mm: bar_mm, ..bare };
        let least = ((part / one.column_steel()).ceil() as u32).next_multiple_of(4).max(8);
        let counts = (least..=40).step_by(4).map(|column_bars| FrameSizes { column_bars, ..one });
        counts.filter(|sizes| sizes.column_steel() <= most).find(|sizes| are_spread(sizes, hoop_mm))
    });
    fewest(fitting, |sizes| (sizes.column_bars, sizes.column_steel()))
}

/// Whether column bars stand neither too close nor too far apart along the hoops.
fn are_spread(sizes: &FrameSizes, hoop_mm: f64) -> bool {
    let bars = PerimeterBars {
        count: sizes.column_bars,
        bar: Bar::round(sizes.column_bar_mm),
        cover_mm: NEW_COVER_MM,
        hoop_diameter_mm: hoop_mm,
        yield_mpa: 0.0,
    };
    let (along, across) = (sizes.column_along_mm, sizes.column_across_mm);
    let on_face = bars.on_face(across, along);
    let beside = sizes.column_bars / 2 + 2 - on_face;
    let edge_mm = bars.edge_mm();
    let close_mm = sizes.column_bar_mm + APART_MM.max(APART_BARS * sizes.column_bar_mm);
    [(across, on_face), (along, beside)].into_iter().all(|(size_mm, count)| {
        let apart_mm = (size_mm - 2.0 * edge_mm) / f64::from(count - 1);
        (close_mm..=MOST_APART_MM).contains(&apart_mm)
    })
}

/// The one with the fewest bars and, of those, the least steel.
fn fewest(all: impl Iterator<Item = FrameSizes>, of: impl Fn(&FrameSizes) -> (u32, f64)) -> Option<FrameSizes> {
    all.reduce(|best, next| if of(&next) < of(&best) { next } else { best })
}

/// Area of a bar, mm².
fn area_mm2(diameter_mm: f64) -> f64 {
    Bar::round(diameter_mm).area_mm2
}
