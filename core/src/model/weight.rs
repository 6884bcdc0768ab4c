//! Weight of the floors and gravity load of the columns.

use super::{Bounds, CONCRETE_KN_M3, Column, Model};
use crate::project::Direction;

impl Model {
    /// Weighs the floors and loads the columns.
    pub(super) fn weigh(&mut self) {
        let storeys = self.floors.len();
        let mut masses: Vec<PointMasses> = vec![PointMasses::default(); storeys];
        // Gravity brought to each column by the floor over its storey, kN.
        let mut brought = vec![vec![vec![0.0_f64; self.x_lines.len()]; self.y_lines.len()]; storeys];

        for s in 0..storeys {
            let area_kpa = self.floors[s].load_kpa;
            let stands: Vec<(usize, usize)> = self
                .columns
                .iter()
                .filter(|column| column.storey as usize == s + 1)
                .map(|column| (column.iy, column.ix))
                .collect();
            let mut bounds =
                Bounds { x0: f64::INFINITY, x1: f64::NEG_INFINITY, y0: f64::INFINITY, y1: f64::NEG_INFINITY };
            let mut area = 0.0;
            for (j, strip) in self.cells[s].iter().enumerate() {
                for (i, _) in strip.iter().enumerate().filter(|(_, floor)| **floor) {
                    let (x0, x1) = (self.x_lines[i].at_m, self.x_lines[i + 1].at_m);
                    let (y0, y1) = (self.y_lines[j].at_m, self.y_lines[j + 1].at_m);
                    let cell = (x1 - x0) * (y1 - y0);
                    area += cell;
                    bounds.x0 = bounds.x0.min(x0);
                    bounds.x1 = bounds.x1.max(x1);
                    bounds.y0 = bounds.y0.min(y0);
                    bounds.y1 = bounds.y1.max(y1);
                    masses[s].add_area(cell * area_kpa, [(x0 + x1) / 2.0, (y0 + y1) / 2.0], [x1 - x0, y1 - y0]);
                    for (iy, ix) in [(j, i), (j, i + 1), (j + 1, i), (j + 1, i + 1)] {
                        let at = [self.x_lines[ix].at_m, self.y_lines[iy].at_m];
                        let bearers = self.nearest(&stands, at);
                        for (jy, jx) in &bearers {
                            brought[s][*jy][*jx] += cell * area_kpa / 4.0 / bearers.len() as f64;
                        }
                    }
                }
            }
            if area <= 0.0 {
                // Columns in a single row carry no bay of floor; their own extent stands in.
                for (iy, ix) in &stands {
                    bounds.x0 = bounds.x0.min(self.x_lines[*ix].at_m);
                    bounds.x1 = bounds.x1.max(self.x_lines[*ix].at_m);
                    bounds.y0 = bounds.y0.min(self.y_lines[*iy].at_m);
                    bounds.y1 = bounds.y1.max(self.y_lines[*iy].at_m);
                }
            }
            self.floors[s].area_m2 = area;
            self.floors[s].bounds = bounds;
        }

        for beam in &self.beams {
            let s = beam.storey as usize - 1;
            let web = (beam.kind.depth_mm - self.floors[s].slab_mm).max(0.0) * beam.kind.width_mm / 1e6;
            let [clear, _] = self.clear_opening_m(beam.direction, beam.line, beam.bay, beam.storey);
            let weight = web * clear.max(0.0) * CONCRETE_KN_M3;
            self.bring(beam.direction, beam.line, beam.bay, s, weight, &mut masses[s], &mut brought);
        }
        for panel in &self.panels {
            let weight = self.panel_kn(panel);
            self.hang(panel.direction, panel.line, panel.bay, panel.storey, weight, &mut masses, &mut brought);
        }
        for panel in &self.masonry {
            let weight = self.masonry_kn(panel);
            self.hang(panel.direction, panel.line, panel.bay, panel.storey, weight, &mut masses, &mut brought);
        }
        let own: Vec<f64> = self.columns.iter().map(|column| self.column_volume_m3(column) * CONCRETE_KN_M3).collect();
        for (column, weight) in self.columns.iter().zip(&own) {
            let at = [self.x_lines[column.ix].at_m, self.y_lines[column.iy].at_m];
            let s = column.storey as usize - 1;
            masses[s].add(weight / 2.0, at);
            if s > 0 {
                masses[s - 1].add(weight / 2.0, at);
            }
        }
        // Columns stand in order of storeys, so walking back meets each after the one above it.
        for index in (0..self.columns.len()).rev() {
            let Column { ix, iy, storey, .. } = self.columns[index];
            let above = self.column_on(Direction::X, iy, ix, storey + 1).map_or(0.0, |other| other.axial_kn);
            self.columns[index].axial_kn = above + brought[storey as usize - 1][iy][ix] + own[index];
        }
        for (floor, mass) in self.floors.iter_mut().zip(&masses) {
            floor.weight_kn = mass.weight;
            floor.centre_m = mass.centre();
            floor.gyration_m2 = mass.gyration();
        }
    }

    /// The columns nearest to a point, all at the same distance.
    fn nearest(&self, stands: &[(usize, usize)], at: [f64; 2]) -> Vec<(usize, usize)> {
        let distance = |(iy, ix): &(usize, usize)| {
            let (dx, dy) = (self.x_lines[*ix].at_m - at[0], self.y_lines[*iy].at_m - at[1]);
            dx * dx + dy * dy
        };
        let least = stands.iter().map(distance).fold(f64::INFINITY, f64::min);
        stands.iter().copied().filter(|place| distance(place) <= least + 1e-9).collect()
    }

    /// Puts a line weight of a bay on its floor and half of it on each end column.
    #[expect(clippy::too_many_arguments, reason = "a bay is named by four numbers")]
    fn bring(
        &self,
        direction: Direction,
        line: usize,
        bay: u32,
        s: usize,
        weight: f64,
        mass: &mut PointMasses,
        brought: &mut [Vec<Vec<f64>>],
    ) {
        for end in [bay as usize - 1, bay as usize] {
            let (ix, iy) = match direction {
                Direction::X => (end, line),
                Direction::Y => (line, end),
            };
            mass.add(weight / 2.0, [self.x_lines[ix].at_m, self.y_lines[iy].at_m]);
            brought[s][iy][ix] += weight / 2.0;
        }
    }

    /// Puts the weight of a wall half on the floor above and half on the floor below it,
    /// and all of it on its columns.
    #[expect(clippy::too_many_arguments, reason = "a bay is named by four numbers")]
    fn hang(
        &self,
        direction: Direction,
        line: usize,
        bay: u32,
        storey: u32,
        weight: f64,
        masses: &mut [PointMasses],
        brought: &mut [Vec<Vec<f64>>],
    ) {
        let s = storey as usize - 1;
        self.bring(direction, line, bay, s, weight / 2.0, &mut masses[s], brought);
        if s > 0 {
            self.bring(direction, line, bay, s - 1, weight / 2.0, &mut masses[s - 1], brought);
        }
    }
}

/// Weights with their first and second moments in plan.
#[derive(Clone, Copy, Debug, Default)]
struct PointMasses {
    weight: f64,
    first: [f64; 2],
    second: f64,
}

impl PointMasses {
    fn add(&mut self, weight: f64, at: [f64; 2]) {
        self.weight += weight;
        self.first[0] += weight * at[0];
        self.first[1] += weight * at[1];
        self.second += weight * (at[0] * at[0] + at[1] * at[1]);
    }

    fn add_area(&mut self, weight: f64, at: [f64; 2], size: [f64; 2]) {
        self.add(weight, at);
        self.second += weight * (size[0] * size[0] + size[1] * size[1]) / 12.0;
    }

    fn centre(&self) -> [f64; 2] {
        if self.weight > 0.0 { [self.first[0] / self.weight, self.first[1] / self.weight] } else { [0.0; 2] }
    }

    fn gyration(&self) -> f64 {
        if self.weight <= 0.0 {
            return 0.0;
        }
        let [x, y] = self.centre();
        (self.second / self.weight - x * x - y * y).max(1e-6)
    }
}
