//! What a section looks like, in mm: columns as on plan (x to the right, y up), walls along their line.

use crate::framing::WallGroup;
use crate::model::{Column, PanelOrigin};
use crate::project::{Direction, Jacket};
use crate::section::{PlacedBar, Section};
use crate::sections::{NEW_COVER_MM, Sections, jacket_edge_mm};

/// A rectangle of concrete.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// Lower left corner.
    pub from_mm: [f64; 2],
    /// Upper right corner.
    pub to_mm: [f64; 2],
    /// Whether it is new.
    pub added: bool,
}

/// A bar as a dot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarDot {
    /// Its centre.
    pub at_mm: [f64; 2],
    /// Its diameter.
    pub diameter_mm: f64,
    /// Whether it is new.
    pub added: bool,
}

/// A hoop, or a leg of it where both extents of one side are equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hoop {
    /// Lower left corner of its middle line.
    pub from_mm: [f64; 2],
    /// Upper right corner.
    pub to_mm: [f64; 2],
    /// Whether it is new.
    pub added: bool,
}

/// A size to write beside the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// Whether it lies horizontally.
    pub across: bool,
    /// From where.
    pub from_mm: f64,
    /// To where.
    pub to_mm: f64,
    /// Row of sizes, 0 next to the drawing.
    pub row: u32,
}

/// A section to draw.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// Concrete.
    pub pieces: Vec<Piece>,
    /// Bars.
    pub bars: Vec<BarDot>,
    /// Hoops.
    pub hoops: Vec<Hoop>,
    /// Sizes.
    pub sizes: Vec<Measured>,
    /// Bars in words: count and diameter, mm, old then new.
    pub steel: [Option<(u32, f64)>; 2],
    /// Hoops in words: diameter and spacing, mm, old then new.
    pub ties: [Option<(f64, f64)>; 2],
}

impl Picture {
    /// Corners of all concrete: lower left, upper right.
    pub fn bounds_mm(&self) -> [[f64; 2]; 2] {
        let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for piece in &self.pieces {
            let [least, most] = &mut bounds;
            *least = std::array::from_fn(|axis| least[axis].min(piece.from_mm[axis]));
            *most = std::array::from_fn(|axis| most[axis].max(piece.to_mm[axis]));
        }
        bounds
    }

    /// Sizes of the whole and, where they differ, of the parts along an axis.
    fn measure(&mut self, inner: [[f64; 2]; 2]) {
        let outer = self.bounds_mm();
        for axis in 0..2 {
            let (from, to) = (outer[0][axis], outer[1][axis]);
            let (core_from, core_to) = (inner[0][axis], inner[1][axis]);
            let mut add = |from_mm: f64, to_mm: f64, row: u32| {
                if to_mm - from_mm > 0.5 {
                    self.sizes.push(Measured { across: axis == 0, from_mm, to_mm, row });
                }
            };
            let whole = core_from - from < 0.5 && to - core_to < 0.5;
            if !whole {
                add(from, core_from, 0);
                add(core_from, core_to, 0);
                add(core_to, to, 0);
            }
            add(from, to, u32::from(!whole));
        }
    }

    /// An existing column's hoops with their legs about a centre.
    fn tie(&mut self, column: &Column, centre_mm: [f64; 2], size_mm: [f64; 2], legs: [u32; 2]) {
        let inset = column.kind.cover_mm + column.kind.hoop_mm / 2.0;
        let [x, y] = [size_mm[0] / 2.0 - inset, size_mm[1] / 2.0 - inset];
        let [cx, cy] = centre_mm;
        self.hoops.push(Hoop { from_mm: [cx - x, cy - y], to_mm: [cx + x, cy + y], added: false });
        let between = |half: f64, legs: u32| {
            (1..legs.max(2) - 1).map(move |k| half * (2.0 * f64::from(k) / f64::from(legs - 1) - 1.0))
        };
        for at in between(y, legs[0]) {
            self.hoops.push(Hoop { from_mm: [cx - x, cy + at], to_mm: [cx + x, cy + at], added: false });
        }
        for at in between(x, legs[1]) {
            self.hoops.push(Hoop { from_mm: [cx + at, cy - y], to_mm: [cx + at, cy + y], added: false });
        }
    }

    /// A jacket's hoop: round the whole, or on one face from as deep in the old column as it is anchored.
    fn jacket_hoop(&mut self, jacket: &Jacket, old_mm: [f64; 2]) {
        let inset = jacket_edge_mm(jacket) - jacket.bar_mm / 2.0 - jacket.hoop_mm / 2.0;
        let [from, to] = self.bounds_mm();
        let mut hoop = Hoop { from_mm: from.map(|at| at + inset), to_mm: to.map(|at| at - inset), added: true };
        if jacket.face_count() == 1 {
            let depth = jacket.hoop_embedment_mm.unwrap_or(0.0);
            let [x0, x1, y0, y1] = jacket.added_mm();
            for (axis, [lower, higher]) in [[x0, x1], [y0, y1]].into_iter().enumerate() {
                if lower > 0.0 {
                    hoop.to_mm[axis] = depth - old_mm[axis] / 2.0;
                } else if higher > 0.0 {
                    hoop.from_mm[axis] = old_mm[axis] / 2.0 - depth;
                }
            }
        }
        self.hoops.push(hoop);
    }

    /// Bars of curtains, which a section keeps on its middle line.
    fn curtains(&mut self, bar: PlacedBar, curtains: u32, thickness_mm: f64, along: Direction, added: bool) {
        let diameter_mm = diameter(bar.area_mm2 / f64::from(curtains.max(1)));
        let edge = (NEW_COVER_MM + diameter_mm / 2.0).min(0.35 * thickness_mm);
        let offsets: &[f64] = if curtains > 1 { &[-1.0, 1.0] } else { &[0.0] };
        for offset in offsets {
            let at = [offset * (thickness_mm / 2.0 - edge), bar.y_mm];
            self.bars.push(BarDot { at_mm: on_plan(at, along), diameter_mm, added });
        }
    }
}

fn diameter(area_mm2: f64) -> f64 {
    (4.0 * area_mm2 / core::f64::consts::PI).sqrt()
}

/// A point of a section (across, along a direction) on plan.
fn on_plan([across, along]: [f64; 2], direction: Direction) -> [f64; 2] {
    match direction {
        Direction::X => [along, across],
        Direction::Y => [across, along],
    }
}

/// Rectangles of a section on plan.
fn pieces(section: &Section, direction: Direction, added: impl Fn(usize) -> bool) -> Vec<Piece> {
    let piece = |(index, rect): (usize, &crate::section::Rect)| Piece {
        from_mm: on_plan([rect.x_min_mm, rect.y_min_mm], direction),
        to_mm: on_plan([rect.x_max_mm, rect.y_max_mm], direction),
        added: added(index),
    };
    section.rects().iter().enumerate().map(piece).collect()
}

/// A column with jacket or wings, whether bending counts them or not.
pub(super) fn column(sections: Sections<'_>, column: &Column) -> Option<Picture> {
    // As if the jacket bent with the column: where it does not it stands there all the same.
    let mut whole = column.clone();
    if let Some(jacket) = &mut whole.jacket {
        (jacket.continuous, jacket.relieved) = (true, true);
        jacket.hoop_embedment_mm.get_or_insert(1.0);
    }
    let wings = column.wings.as_ref();
    let along = wings.map_or(Direction::Y, |wings| wings.spec.direction);
    let section = sections.column(&whole, along, 1.0, 1.0).ok()??;
    let mut picture = Picture { pieces: pieces(&section, along, |index| index > 0), ..Picture::default() };
    let kind = &column.kind;
    let (old, new) = section.bars().split_at((kind.bars as usize).min(section.bars().len()));
    let dot = |bar: &PlacedBar, added| BarDot {
        at_mm: on_plan([bar.x_mm, bar.y_mm], along),
        diameter_mm: diameter(bar.area_mm2),
        added,
    };
    picture.bars.extend(old.iter().map(|bar| dot(bar, false)));
    picture.steel[0] = Some((kind.bars, kind.bar_mm));
    picture.ties[0] = Some((kind.hoop_mm, kind.hoop_spacing_mm));
    picture.tie(column, [0.0; 2], [kind.x_mm, kind.y_mm], [kind.hoop_legs_x, kind.hoop_legs_y]);
    match (&column.jacket, wings) {
        (Some(jacket), _) => {
            picture.bars.extend(new.iter().map(|bar| dot(bar, true)));
            picture.steel[1] = Some((jacket.bars, jacket.bar_mm));
            picture.ties[1] = Some((jacket.hoop_mm, jacket.hoop_spacing_mm));
            picture.jacket_hoop(jacket, [kind.x_mm, kind.y_mm]);
        }
        (None, Some(wings)) => {
            for bar in new {
                picture.curtains(*bar, 2, wings.spec.thickness_mm, along, true);
            }
            picture.steel[1] = Some((2 * new.len() as u32, wings.spec.bar_mm));
        }
        (None, None) => {}
    }
    let half = [kind.x_mm / 2.0, kind.y_mm / 2.0];
    picture.measure([half.map(|size| -size), half]);
    if let Some(wings) = wings {
        // Its thickness.
        let half = wings.spec.thickness_mm / 2.0;
        picture.sizes.push(Measured { across: along == Direction::Y, from_mm: -half, to_mm: half, row: 1 });
    }
    Some(picture)
}

/// A wall along its line with the columns at its ends, as bending counts it.
pub(super) fn wall(sections: Sections<'_>, direction: Direction, line: usize, wall: &WallGroup) -> Option<Picture> {
    let model = sections.model;
    let first = *wall.panels.first()?;
    let section = sections.wall(direction, line, wall, first, 1.0).ok()??;
    // Drawn along its line whatever way that runs.
    let mut picture = Picture { pieces: pieces(&section, Direction::X, |_| false), ..Picture::default() };
    let web = picture.pieces.remove(0);
    let along = model.along(direction);
    let mid_m = (along[wall.first_bay as usize - 1].at_m + along[wall.last_bay as usize].at_m) / 2.0;
    let [lower, higher] = [wall.first_bay as usize - 1, wall.last_bay as usize]
        .map(|end| model.column_on(direction, line, end, wall.storey));
    let (lower, higher) = (lower?, higher?);
    // The web's own middle lies off the middle of the lines where the columns differ.
    let depth = |column: &Column| crate::sections::across(column, direction).0;
    let shift_mm = (depth(lower) - depth(higher)) / 4.0;
    for &place in &wall.panels {
        let panel = &model.panels[place];
        let at = |end: usize| 1000.0 * (along[end].at_m - mid_m) - shift_mm;
        let from = at(panel.bay as usize - 1).max(web.from_mm[0]);
        let to = at(panel.bay as usize).min(web.to_mm[0]);
        picture.pieces.push(Piece {
            from_mm: [from, web.from_mm[1]],
            to_mm: [to, web.to_mm[1]],
            added: matches!(panel.origin, PanelOrigin::Infill(_)),
        });
    }
    let (curtains, bar_mm, added) = match &model.panels[first].origin {
        PanelOrigin::Existing(own) => (own.curtains, own.bar_mm, false),
        PanelOrigin::Infill(own) => (2, own.bar_mm, true),
    };
    let columns = (lower.kind.bars + higher.kind.bars) as usize;
    let (old, rest) = section.bars().split_at(columns.min(section.bars().len()));
    for bar in old {
        let at_mm = on_plan([bar.x_mm, bar.y_mm], Direction::X);
        picture.bars.push(BarDot { at_mm, diameter_mm: diameter(bar.area_mm2), added: false });
    }
    let thickness_mm = web.to_mm[1] - web.from_mm[1];
    for bar in rest {
        picture.curtains(*bar, curtains, thickness_mm, Direction::X, added);
    }
    picture.steel = [Some((lower.kind.bars, lower.kind.bar_mm)), Some((curtains * rest.len() as u32, bar_mm))];
    picture.ties[0] = Some((lower.kind.hoop_mm, lower.kind.hoop_spacing_mm));
    for (column, side) in [(lower, -1.0), (higher, 1.0)] {
        let (depth, width) = crate::sections::across(column, direction);
        let centre = if side < 0.0 { web.from_mm[0] - depth / 2.0 } else { web.to_mm[0] + depth / 2.0 };
        let legs = [column.kind.hoop_legs_x, column.kind.hoop_legs_y];
        let legs = if direction == Direction::X { legs } else { [legs[1], legs[0]] };
        picture.tie(column, [centre, 0.0], [depth, width], legs);
    }
    picture.measure([web.from_mm, web.to_mm]);
    Some(picture)
}
