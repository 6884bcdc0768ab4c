//! The sections that occur in the job, built from the dimensions an engineer has.
//!
//! Every builder puts the centre of the (existing) column or the mid-length of the wall at the
//! origin and returns `None` when the bars do not fit the concrete.

use crate::material::{Bar, ConcreteLaw};
use crate::math::whole_spaces;
use crate::section::{Before, PlacedBar, Rect, Section};

/// Bars spread round the perimeter of a rectangle, inside hoops.
///
/// Rule: one bar in each corner; the rest in opposite pairs, shared between the two pairs of faces
/// in proportion to the length between corner bars (a tie goes to the faces parallel to x), evenly
/// spaced along each face. The count must be even and at least four.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerimeterBars {
    /// How many bars in all.
    pub count: u32,
    /// One bar.
    pub bar: Bar,
    /// Clear cover to the hoop, mm.
    pub cover_mm: f64,
    /// Hoop diameter, mm.
    pub hoop_diameter_mm: f64,
    /// Largest stress the bars can carry, MPa.
    pub yield_mpa: f64,
}

impl PerimeterBars {
    /// From the face of the concrete to the centre of the outer bars, mm.
    pub fn edge_mm(&self) -> f64 {
        self.cover_mm + self.hoop_diameter_mm + 0.5 * self.bar.diameter_mm
    }

    /// Bars along each face across the depth, corners included.
    pub fn on_face(&self, width_mm: f64, depth_mm: f64) -> u32 {
        let edge = |size: f64| (0.5 * size - self.edge_mm()).max(0.0);
        let (half_x, half_y) = (edge(width_mm), edge(depth_mm));
        let pairs = self.count.saturating_sub(4) / 2;
        let share = f64::from(pairs) * half_x / (half_x + half_y).max(f64::MIN_POSITIVE);
        // Rounded half up, so a tie goes to the faces parallel to x.
        2 + ((share + 0.5).floor() as u32).min(pairs)
    }

    /// Bars in a rectangle of the given size centred at the origin.
    pub fn place(&self, width_mm: f64, depth_mm: f64) -> Option<Vec<PlacedBar>> {
        let half_x = 0.5 * width_mm - self.edge_mm();
        let half_y = 0.5 * depth_mm - self.edge_mm();
        if self.count < 4 || self.count % 2 == 1 || !(half_x > 0.0 && half_y > 0.0) {
            return None;
        }
        let pairs = (self.count - 4) / 2;
        let along_x = self.on_face(width_mm, depth_mm) - 2;
        let along_y = pairs - along_x;
        let mut bars = Vec::with_capacity(self.count as usize);
        let mut put = |x_mm: f64, y_mm: f64| {
            bars.push(PlacedBar { x_mm, y_mm, area_mm2: self.bar.area_mm2, yield_mpa: self.yield_mpa });
        };
        for side in [-1.0, 1.0] {
            put(side * half_x, -half_y);
            put(side * half_x, half_y);
        }
        for i in 1..=along_x {
            let x = half_x * (2.0 * f64::from(i) / f64::from(along_x + 1) - 1.0);
            put(x, -half_y);
            put(x, half_y);
        }
        for i in 1..=along_y {
            let y = half_y * (2.0 * f64::from(i) / f64::from(along_y + 1) - 1.0);
            put(-half_x, y);
            put(half_x, y);
        }
        Some(bars)
    }
}

fn rect(width_mm: f64, y_min_mm: f64, y_max_mm: f64, concrete: ConcreteLaw) -> Rect {
    Rect { x_min_mm: -0.5 * width_mm, x_max_mm: 0.5 * width_mm, y_min_mm, y_max_mm, concrete }
}

/// A rectangular column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColumnShape {
    /// Size along x, mm.
    pub width_mm: f64,
    /// Size along y, the direction of the force, mm.
    pub depth_mm: f64,
    /// Concrete.
    pub concrete: ConcreteLaw,
    /// Longitudinal bars.
    pub bars: PerimeterBars,
}

impl ColumnShape {
    /// The section.
    pub fn section(&self) -> Option<Section> {
        Section::new(vec![self.rect(0.0)], self.bars.place(self.width_mm, self.depth_mm)?)
    }

    fn rect(&self, centre_mm: f64) -> Rect {
        let half = 0.5 * self.depth_mm;
        rect(self.width_mm, centre_mm - half, centre_mm + half, self.concrete)
    }

    fn shifted_bars(&self, centre_mm: f64) -> Option<Vec<PlacedBar>> {
        let mut bars = self.bars.place(self.width_mm, self.depth_mm)?;
        for bar in &mut bars {
            bar.y_mm += centre_mm;
        }
        Some(bars)
    }
}

/// A column enlarged on some or all faces; old and new act as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JacketedShape {
    /// The existing column.
    pub core: ColumnShape,
    /// Thickness added at −x, +x, −y, +y, mm; zero where a face is left as it is.
    pub added_mm: [f64; 4],
    /// Concrete of the jacket.
    pub concrete: ConcreteLaw,
    /// Bars of the jacket; none where they stop at the floors.
    pub bars: Option<PerimeterBars>,
    /// Strain of the core under the load it had when the jacket was cast, compression positive.
    pub core_strain: f64,
}

/// Bars of a jacket round a core of the given size, about the centre of the core, for thicknesses
/// at −x, +x, −y, +y, mm. All round they follow the rule of [`PerimeterBars`]; on one or three faces
/// they stand in the jacket alone, evenly from end to end of each face, with one at each corner.
/// `None` where they do not fit.
pub fn jacket_bars([width, depth]: [f64; 2], added_mm: [f64; 4], bars: &PerimeterBars) -> Option<Vec<PlacedBar>> {
    let [left, right, below, above] = added_mm;
    let (x0, x1) = (-0.5 * width - left, 0.5 * width + right);
    let (y0, y1) = (-0.5 * depth - below, 0.5 * depth + above);
    let closed = added_mm.iter().all(|added| *added > 0.0);
    if closed {
        let mut all = bars.place(x1 - x0, y1 - y0)?;
        for bar in &mut all {
            bar.x_mm += 0.5 * (x0 + x1);
            bar.y_mm += 0.5 * (y0 + y1);
        }
        return Some(all);
    }
    let edge = bars.edge_mm();
    let (x0, x1, y0, y1) = (x0 + edge, x1 - edge, y0 + edge, y1 - edge);
    if !(x1 > x0 && y1 > y0) {
        return None;
    }
    // Corners anticlockwise from −x −y; each face runs from the corner of its own place.
    let corners = [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
    let faces = [below, right, above, left];
    let there = |face: usize| faces[face % 4] > 0.0;
    // The first face of an unbroken run.
    let first = (0..4).find(|face| there(*face) && !there(face + 3))?;
    let run: Vec<usize> = (first..first + 4).take_while(|face| there(*face)).collect();
    let line: Vec<[f64; 2]> = (first..=first + run.len()).map(|corner| corners[corner % 4]).collect();
    if faces.iter().filter(|added| **added > 0.0).count() != run.len() || (bars.count as usize) < line.len() {
        return None;
    }
    let length = |piece: usize| {
        let ([ax, ay], [bx, by]) = (line[piece], line[piece + 1]);
        (bx - ax).abs() + (by - ay).abs()
    };
    // What corners and ends leave goes to the faces by their length, the same to two that face each other.
    let rest = bars.count - line.len() as u32;
    let between = match run.len() {
        1 => vec![rest],
        3 => {
            let share = f64::from(rest) * length(0) / (2.0 * length(0) + length(1));
            let arm = ((share + 0.5).floor() as u32).min(rest / 2);
            vec![arm, rest - 2 * arm, arm]
        }
        _ => {
            let share = f64::from(rest) * length(0) / (length(0) + length(1));
            let one = ((share + 0.5).floor() as u32).min(rest);
            vec![one, rest - one]
        }
    };
    let mut all = Vec::with_capacity(bars.count as usize);
    let mut put = |[x_mm, y_mm]: [f64; 2]| {
        all.push(PlacedBar { x_mm, y_mm, area_mm2: bars.bar.area_mm2, yield_mpa: bars.yield_mpa });
    };
    for (piece, &count) in between.iter().enumerate() {
        let ([ax, ay], [bx, by]) = (line[piece], line[piece + 1]);
        for i in 0..=count {
            let part = f64::from(i) / f64::from(count + 1);
            put([ax + part * (bx - ax), ay + part * (by - ay)]);
        }
    }
    put(line[run.len()]);
    Some(all)
}

impl JacketedShape {
    /// The section; the origin stays at the centre of the old column. `None` also when a jacket
    /// bar would lie in the old concrete.
    pub fn section(&self) -> Option<Section> {
        let [left, right, below, above] = self.added_mm;
        if self.added_mm.iter().any(|t| t.is_nan() || *t < 0.0) {
            return None;
        }
        let (half_x, half_y) = (0.5 * self.core.width_mm, 0.5 * self.core.depth_mm);
        let (x0, x1) = (-half_x - left, half_x + right);
        let (y0, y1) = (-half_y - below, half_y + above);
        let mut rects = vec![self.core.rect(0.0)];
        let mut add = |x_min_mm: f64, x_max_mm: f64, y_min_mm: f64, y_max_mm: f64| {
            if x_max_mm > x_min_mm && y_max_mm > y_min_mm {
                rects.push(Rect { x_min_mm, x_max_mm, y_min_mm, y_max_mm, concrete: self.concrete });
            }
        };
        add(x0, x1, half_y, y1);
        add(x0, x1, y0, -half_y);
        add(x0, -half_x, -half_y, half_y);
        add(half_x, x1, -half_y, half_y);
        let mut bars = self.core.shifted_bars(0.0)?;
        let before = Before { rects: 1, bars: bars.len(), strain: self.core_strain };
        if let Some(jacket) = &self.bars {
            for bar in jacket_bars([self.core.width_mm, self.core.depth_mm], self.added_mm, jacket)? {
                if bar.x_mm.abs() < half_x && bar.y_mm.abs() < half_y {
                    return None;
                }
                bars.push(bar);
            }
        }
        Section::cast_onto(rects, bars, before)
    }
}

/// Vertical bars of a wall in one or two curtains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurtainBars {
    /// One bar.
    pub bar: Bar,
    /// Spacing along the wall, mm.
    pub spacing_mm: f64,
    /// Curtains, 1 or 2.
    pub curtains: u32,
    /// From a free end of the wall to the centre of the first bar, mm.
    pub edge_mm: f64,
    /// Largest stress the bars can carry, MPa; zero where they are not shown to be anchored.
    pub yield_mpa: f64,
}

impl CurtainBars {
    /// Steel over concrete area for a wall of the given thickness.
    pub fn ratio(&self, thickness_mm: f64) -> f64 {
        f64::from(self.curtains) * self.bar.area_mm2 / (self.spacing_mm * thickness_mm)
    }

    fn rows(&self, ordinates: impl Iterator<Item = f64>, into: &mut Vec<PlacedBar>) {
        for y_mm in ordinates {
            into.push(PlacedBar {
                x_mm: 0.0,
                y_mm,
                area_mm2: f64::from(self.curtains) * self.bar.area_mm2,
                yield_mpa: self.yield_mpa,
            });
        }
    }
}

/// A thin wall beside a column, in its plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wing {
    /// From the face of the column to the tip, mm.
    pub length_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Concrete.
    pub concrete: ConcreteLaw,
    /// Vertical bars, counted from the tip inwards.
    pub bars: CurtainBars,
}

/// A column with a wing wall on one or both sides along y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WingedShape {
    /// The column.
    pub column: ColumnShape,
    /// Wing on the −y side.
    pub minus: Option<Wing>,
    /// Wing on the +y side.
    pub plus: Option<Wing>,
}

impl WingedShape {
    /// The section.
    pub fn section(&self) -> Option<Section> {
        let face = 0.5 * self.column.depth_mm;
        let mut rects = vec![self.column.rect(0.0)];
        let mut bars = self.column.shifted_bars(0.0)?;
        for (side, wing) in [(-1.0, self.minus), (1.0, self.plus)] {
            let Some(wing) = wing else { continue };
            let tip = face + wing.length_mm;
            let (y0, y1) = if side < 0.0 { (-tip, -face) } else { (face, tip) };
            rects.push(rect(wing.thickness_mm, y0, y1, wing.concrete));
            let b = wing.bars;
            if !(b.spacing_mm > 0.0 && wing.length_mm > b.edge_mm && b.edge_mm >= 0.0) {
                return None;
            }
            let count = whole_spaces(wing.length_mm - b.edge_mm, b.spacing_mm).min(500.0) as u32;
            b.rows((0..=count).map(|i| side * (tip - b.edge_mm - f64::from(i) * b.spacing_mm)), &mut bars);
        }
        Section::new(rects, bars)
    }
}

/// A wall, with or without a column at either end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallShape {
    /// Length of the web between the columns (or over all when there are none), mm.
    pub web_length_mm: f64,
    /// Thickness of the web, mm.
    pub thickness_mm: f64,
    /// Concrete of the web.
    pub concrete: ConcreteLaw,
    /// Vertical bars of the web, centred along it; the first half a spacing from a column.
    pub bars: CurtainBars,
    /// Column at the −y end.
    pub minus: Option<ColumnShape>,
    /// Column at the +y end.
    pub plus: Option<ColumnShape>,
}

impl WallShape {
    /// Overall length, mm.
    pub fn length_mm(&self) -> f64 {
        let end = |c: Option<ColumnShape>| c.map_or(0.0, |c| c.depth_mm);
        self.web_length_mm + end(self.minus) + end(self.plus)
    }

    /// The section; the origin is at mid-length of the web.
    pub fn section(&self) -> Option<Section> {
        let half = 0.5 * self.web_length_mm;
        let mut rects = vec![rect(self.thickness_mm, -half, half, self.concrete)];
        let mut bars = Vec::new();
        for (side, column) in [(-1.0, self.minus), (1.0, self.plus)] {
            let Some(column) = column else { continue };
            let centre = side * (half + 0.5 * column.depth_mm);
            rects.push(column.rect(centre));
            bars.extend(column.shifted_bars(centre)?);
        }
        let b = self.bars;
        let edge = |column: Option<ColumnShape>| {
            if column.is_some() { 0.5 * b.spacing_mm } else { b.edge_mm }
        };
        let (from, to) = (-half + edge(self.minus), half - edge(self.plus));
        if !(b.spacing_mm > 0.0 && to > from) {
            return None;
        }
        let count = whole_spaces(to - from, b.spacing_mm).min(1000.0);
        let start = 0.5 * (from + to) - 0.5 * count * b.spacing_mm;
        b.rows((0..=count as u32).map(|i| start + f64::from(i) * b.spacing_mm), &mut bars);
        Section::new(rects, bars)
    }
}

/// One layer of beam reinforcement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamBars {
    /// Total area of the layer, mm².
    pub area_mm2: f64,
    /// From the nearer face of the beam to the bar centres, mm.
    pub edge_mm: f64,
    /// Largest stress the bars can carry, MPa.
    pub yield_mpa: f64,
}

/// A beam with its slab as flange; +y is up, so [`crate::section::Sense::Plus`] is sagging.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamShape {
    /// Web width, mm.
    pub width_mm: f64,
    /// Overall depth, mm.
    pub depth_mm: f64,
    /// Effective flange width, mm; not less than the web.
    pub flange_width_mm: f64,
    /// Slab thickness, mm; zero for no flange.
    pub flange_thickness_mm: f64,
    /// Concrete.
    pub concrete: ConcreteLaw,
    /// Top bars, slab bars within the flange included where they count.
    pub top: BeamBars,
    /// Bottom bars.
    pub bottom: BeamBars,
}

impl BeamShape {
    /// The section; the origin is at the bottom face.
    pub fn section(&self) -> Option<Section> {
        let soffit = (self.depth_mm - self.flange_thickness_mm.max(0.0)).max(0.0);
        let mut rects = Vec::with_capacity(2);
        if soffit > 0.0 {
            rects.push(rect(self.width_mm, 0.0, soffit, self.concrete));
        }
        if soffit < self.depth_mm {
            rects.push(rect(self.flange_width_mm.max(self.width_mm), soffit, self.depth_mm, self.concrete));
        }
        let place = |bars: &BeamBars, y_mm: f64| PlacedBar {
            x_mm: 0.0,
            y_mm,
            area_mm2: bars.area_mm2,
            yield_mpa: bars.yield_mpa,
        };
        let fits = |bars: &BeamBars| bars.edge_mm >= 0.0 && bars.edge_mm < self.depth_mm && bars.area_mm2 >= 0.0;
        if !(fits(&self.top) && fits(&self.bottom)) {
            return None;
        }
        let bars = vec![place(&self.top, self.depth_mm - self.top.edge_mm), place(&self.bottom, self.bottom.edge_mm)];
        Section::new(rects, bars)
    }
}
