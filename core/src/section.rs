//! Strength of a reinforced-concrete section under axial force and bending about one axis.
//!
//! A section is a set of rectangles, each with its own concrete, and a set of bars, each with its
//! own yield strength; plane sections stay plane and the most compressed fibre is at its ultimate
//! strain. Axes: x across, y along the depth; bending is about an axis parallel to x. Axial force
//! and strain are positive in compression; a moment is positive when it compresses the side named
//! by its [`Sense`].

use crate::material::{ConcreteLaw, STEEL_MODULUS_MPA, StrainLine, steel_stress_mpa};

/// Which side of the section bending compresses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// The side of largest y.
    Plus,
    /// The side of smallest y.
    Minus,
}

/// A rectangle of concrete, sides parallel to the axes, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Smallest x.
    pub x_min_mm: f64,
    /// Largest x.
    pub x_max_mm: f64,
    /// Smallest y.
    pub y_min_mm: f64,
    /// Largest y.
    pub y_max_mm: f64,
    /// Stress law of this concrete.
    pub concrete: ConcreteLaw,
}

impl Rect {
    fn width_mm(&self) -> f64 {
        self.x_max_mm - self.x_min_mm
    }

    /// Area, mm².
    pub fn area_mm2(&self) -> f64 {
        self.width_mm() * (self.y_max_mm - self.y_min_mm)
    }

    fn centre_mm(&self) -> f64 {
        0.5 * (self.y_min_mm + self.y_max_mm)
    }

    fn holds(&self, x: f64, y: f64) -> bool {
        self.x_min_mm <= x && x <= self.x_max_mm && self.y_min_mm <= y && y <= self.y_max_mm
    }
}

/// A longitudinal bar in place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedBar {
    /// Across the section, mm.
    pub x_mm: f64,
    /// Along the depth, mm.
    pub y_mm: f64,
    /// Area, mm².
    pub area_mm2: f64,
    /// The largest stress the bar can carry, MPa: yield, or less where its anchorage or lap
    /// governs; zero for a bar that is not continuous.
    pub yield_mpa: f64,
}

/// Whether the concrete a compressed bar pushes aside is taken off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum DisplacedConcrete {
    /// Taken off where the centre of the bar lies in stressed concrete (exact).
    #[default]
    Deducted,
    /// Counted twice, as short hand calculations do.
    Ignored,
}

/// Bars at one level that share a yield strength and a surrounding concrete.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Layer {
    y_mm: f64,
    area_mm2: f64,
    yield_mpa: f64,
    host: Option<usize>,
    locked: f64,
}

/// Parts of a section that were strained before the rest was cast: the first rectangles and the
/// first bars. Plane sections stay plane for what is added after casting.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Before {
    /// How many of the rectangles.
    pub rects: usize,
    /// How many of the bars.
    pub bars: usize,
    /// Their strain when the rest was cast, compression positive.
    pub strain: f64,
}

/// A section ready for strength questions.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    rects: Vec<Rect>,
    bars: Vec<PlacedBar>,
    layers: Vec<Layer>,
    displaced: DisplacedConcrete,
    before: Before,
    y_min_mm: f64,
    y_max_mm: f64,
    ultimate_strain: f64,
    uniform_strain: f64,
}

/// Strength of a section at one axial force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionStrength {
    /// Axial force, kN, compression positive.
    pub axial_kn: f64,
    /// Moment about the stated axis, kNm.
    pub moment_knm: f64,
    /// Depth of the neutral axis from the most compressed fibre, mm; infinite when the whole
    /// section is at one strain.
    pub neutral_axis_mm: f64,
    /// Strain of the bar farthest from the most compressed fibre, tension positive.
    pub tension_strain: f64,
    /// That bar yields: the axial force is below the balanced one.
    pub tension_yields: bool,
}

/// Smallest neutral-axis depth tried, as a part of the section depth: all bars yield in tension.
const SHALLOWEST: f64 = 1e-12;

impl Section {
    /// A section from its parts. `None` when there is no concrete, or a rectangle is empty.
    ///
    /// Where rectangles overlap both are counted; they must not.
    pub fn new(rects: Vec<Rect>, bars: Vec<PlacedBar>) -> Option<Self> {
        Self::cast_onto(rects, bars, Before::default())
    }

    /// A section some parts of which were strained before the rest was cast. Otherwise as
    /// [`Self::new`].
    pub fn cast_onto(rects: Vec<Rect>, bars: Vec<PlacedBar>, before: Before) -> Option<Self> {
        let sound = |r: &Rect| r.area_mm2() > 0.0 && r.width_mm() > 0.0 && r.area_mm2().is_finite();
        if rects.is_empty() || !rects.iter().all(sound) {
            return None;
        }
        let mut layers: Vec<Layer> = Vec::new();
        for (place, bar) in bars.iter().enumerate() {
            let locked = if place < before.bars { before.strain } else { 0.0 };
            let host = rects.iter().position(|r| r.holds(bar.x_mm, bar.y_mm));
            let same = |l: &&mut Layer| {
                l.y_mm == bar.y_mm
                    && l.yield_mpa == bar.yield_mpa
                    && l.locked == locked
                    && l.host.map(|h| rects[h].concrete) == host.map(|h| rects[h].concrete)
            };
            match layers.iter_mut().find(same) {
                Some(layer) => layer.area_mm2 += bar.area_mm2,
                None => layers.push(Layer {
                    y_mm: bar.y_mm,
                    area_mm2: bar.area_mm2,
                    yield_mpa: bar.yield_mpa,
                    host,
                    locked,
                }),
            }
        }
        let least = |f: fn(&Rect) -> f64| rects.iter().map(f).fold(f64::INFINITY, f64::min);
        let y_min_mm = least(|r| r.y_min_mm);
        let y_max_mm = -least(|r| -r.y_max_mm);
        // Two concretes share one strain limit: the smaller.
        let ultimate_strain = least(|r| r.concrete.ultimate_strain());
        let uniform_strain = least(|r| r.concrete.uniform_strain());
        Some(Self {
            rects,
            bars,
            layers,
            displaced: DisplacedConcrete::default(),
            before,
            y_min_mm,
            y_max_mm,
            ultimate_strain,
            uniform_strain,
        })
    }

    /// The same section with another treatment of displaced concrete.
    #[must_use]
    pub fn with_displaced(mut self, displaced: DisplacedConcrete) -> Self {
        self.displaced = displaced;
        self
    }

    /// The bars.
    pub fn bars(&self) -> &[PlacedBar] {
        &self.bars
    }

    /// The rectangles of concrete.
    pub fn rects(&self) -> &[Rect] {
        &self.rects
    }

    /// Gross area, mm².
    pub fn area_mm2(&self) -> f64 {
        self.rects.iter().map(Rect::area_mm2).sum()
    }

    /// Ordinate of the geometric centroid of the concrete, mm.
    pub fn centroid_mm(&self) -> f64 {
        self.rects.iter().map(|r| r.area_mm2() * r.centre_mm()).sum::<f64>() / self.area_mm2()
    }

    /// Overall depth along y, mm.
    pub fn depth_mm(&self) -> f64 {
        self.y_max_mm - self.y_min_mm
    }

    /// Smallest (all bars in tension) and largest (whole section at one strain) axial force, kN.
    pub fn axial_range_kn(&self) -> (f64, f64) {
        let tension: f64 = -self.layers.iter().map(|l| l.area_mm2 * l.yield_mpa).sum::<f64>();
        (tension / 1e3, self.forces(self.strain_line(2.0, Sense::Plus), Sense::Plus).0 / 1e3)
    }

    /// Strength at an axial force, moment about y = `about_mm`.
    ///
    /// `None` when the force is outside [`Self::axial_range_kn`]. With displaced concrete deducted
    /// the force drops by a hair where the block passes a bar; where that makes two or three
    /// neutral axes possible one of them is returned, always the same.
    pub fn strength(&self, axial_kn: f64, sense: Sense, about_mm: f64) -> Option<SectionStrength> {
        let (least, most) = self.axial_range_kn();
        let scale = (most - least).max(f64::MIN_POSITIVE);
        let slack = 1e-11 * scale;
        if !(axial_kn >= least - slack && axial_kn <= most + slack) {
            return None;
        }
        let excess = |s: f64| self.forces(self.strain_line(s, sense), sense).0 / 1e3 - axial_kn;
        // Invariant: excess(low) < 0 < excess(high). A drop (bar entering the block) cannot satisfy
        // it in the limit, so the bracket always closes on a rise.
        let (mut low, mut high) = (SHALLOWEST, 2.0);
        let (mut at_low, mut at_high) = (excess(low), excess(high));
        if at_low >= -slack {
            return Some(self.state(low, sense, about_mm));
        }
        if at_high <= slack {
            return Some(self.state(high, sense, about_mm));
        }
        let mut kept = 0;
        for round in 0..200 {
            if high - low <= 4.0 * f64::EPSILON {
                break;
            }
            // Illinois rule; plain halving every fourth round keeps it from stalling at a kink.
            let mut s = high - at_high * (high - low) / (at_high - at_low);
            if round % 4 == 3 || !(s > low && s < high) {
                s = 0.5 * (low + high);
            }
            let value = excess(s);
            if value.abs() <= slack {
                return Some(self.state(s, sense, about_mm));
            }
            if value < 0.0 {
                (low, at_low) = (s, value);
                if kept == -1 {
                    at_high *= 0.5;
                }
                kept = -1;
            } else {
                (high, at_high) = (s, value);
                if kept == 1 {
                    at_low *= 0.5;
                }
                kept = 1;
            }
        }
        Some(self.state(0.5 * (low + high), sense, about_mm))
    }

    /// Strength with the neutral axis at a given depth from the most compressed fibre.
    pub fn at_neutral_axis(&self, neutral_axis_mm: f64, sense: Sense, about_mm: f64) -> SectionStrength {
        let ratio = (neutral_axis_mm / self.depth_mm()).max(SHALLOWEST);
        let s = if ratio <= 1.0 { ratio } else { 2.0 - 1.0 / ratio };
        self.state(s, sense, about_mm)
    }

    /// Strength when the farthest bar just yields as the concrete reaches its ultimate strain.
    /// `None` without bars.
    pub fn balanced(&self, sense: Sense, about_mm: f64) -> Option<SectionStrength> {
        let (depth, layer) = self.farthest(sense)?;
        let yield_strain = layer.yield_mpa / STEEL_MODULUS_MPA;
        let axis = depth * self.ultimate_strain / (self.ultimate_strain + yield_strain);
        Some(self.at_neutral_axis(axis, sense, about_mm))
    }

    /// Strain line for s in (0, 2]: up to 1 the neutral axis is at s times the depth; beyond, at
    /// depth/(2 − s), reaching infinity at 2. Past the full depth the strain turns about the point
    /// that holds the uniform strain (pivot C of EN 1992-1-1 Figure 6.1); for the block law that
    /// point is the compressed edge itself.
    ///
    /// Parts strained before stay within the ultimate strain of their concrete too, so they may hold
    /// the whole back.
    fn strain_line(&self, s: f64, sense: Sense) -> StrainLine {
        let depth = self.depth_mm();
        let line = if s <= 1.0 {
            let top = self.ultimate_strain;
            StrainLine { top, curvature_per_mm: top / (s.max(SHALLOWEST) * depth) }
        } else {
            let pivot = 1.0 - self.uniform_strain / self.ultimate_strain;
            let inverse = 2.0 - s;
            let top = self.uniform_strain / (1.0 - pivot * inverse);
            StrainLine { top, curvature_per_mm: top * inverse / depth }
        };
        let held = self.rects[..self.before.rects].iter().fold(1.0, |held: f64, rect| {
            let added = line.at(self.span(rect, sense).0);
            let room = rect.concrete.ultimate_strain() - self.before.strain;
            if added > room { held.min(room.max(0.0) / added) } else { held }
        });
        StrainLine { top: held * line.top, curvature_per_mm: held * line.curvature_per_mm }
    }

    /// Depths at which a rectangle begins and ends below the most compressed fibre.
    fn span(&self, rect: &Rect, sense: Sense) -> (f64, f64) {
        match sense {
            Sense::Plus => (self.y_max_mm - rect.y_max_mm, self.y_max_mm - rect.y_min_mm),
            Sense::Minus => (rect.y_min_mm - self.y_min_mm, rect.y_max_mm - self.y_min_mm),
        }
    }

    fn depth_of(&self, y_mm: f64, sense: Sense) -> f64 {
        match sense {
            Sense::Plus => self.y_max_mm - y_mm,
            Sense::Minus => y_mm - self.y_min_mm,
        }
    }

    fn farthest(&self, sense: Sense) -> Option<(f64, Layer)> {
        let mut found: Option<(f64, Layer)> = None;
        for layer in self.layers.iter().filter(|l| l.area_mm2 > 0.0 && l.yield_mpa > 0.0) {
            let depth = self.depth_of(layer.y_mm, sense);
            if found.is_none_or(|(d, _)| depth > d) {
                found = Some((depth, *layer));
            }
        }
        found
    }

    /// Axial force (N) and its first moment about the most compressed fibre (N·mm, compression
    /// below the fibre positive).
    fn forces(&self, strain: StrainLine, sense: Sense) -> (f64, f64) {
        let (mut force, mut moment) = (0.0, 0.0);
        for (place, rect) in self.rects.iter().enumerate() {
            let (from, to) = self.span(rect, sense);
            let (f, m) = rect.concrete.resultant(self.of_rect(strain, place), from, to);
            force += f * rect.width_mm();
            moment += m * rect.width_mm();
        }
        for layer in &self.layers {
            let depth = self.depth_of(layer.y_mm, sense);
            let mut stress = steel_stress_mpa(strain.at(depth) + layer.locked, layer.yield_mpa);
            if let (DisplacedConcrete::Deducted, Some(host)) = (self.displaced, layer.host) {
                stress -= self.rects[host].concrete.stress_mpa(self.of_rect(strain, host), depth);
            }
            force += stress * layer.area_mm2;
            moment += stress * layer.area_mm2 * depth;
        }
        (force, moment)
    }

    /// Strain of a rectangle, with what it had before.
    fn of_rect(&self, strain: StrainLine, place: usize) -> StrainLine {
        let locked = if place < self.before.rects { self.before.strain } else { 0.0 };
        StrainLine { top: strain.top + locked, ..strain }
    }

    fn state(&self, s: f64, sense: Sense, about_mm: f64) -> SectionStrength {
        let strain = self.strain_line(s, sense);
        let (force, moment) = self.forces(strain, sense);
        let arm = self.depth_of(about_mm, sense);
        let (tension_strain, tension_yields) = match self.farthest(sense) {
            Some((depth, layer)) => {
                let tension = -strain.at(depth) - layer.locked;
                (tension, tension >= layer.yield_mpa / STEEL_MODULUS_MPA * (1.0 - 1e-12))
            }
            None => (-strain.at(self.depth_mm()), false),
        };
        SectionStrength {
            axial_kn: force / 1e3,
            moment_knm: (force * arm - moment) / 1e6,
            neutral_axis_mm: strain.neutral_axis_mm(),
            tension_strain,
            tension_yields,
        }
    }
}
