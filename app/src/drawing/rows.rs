//! Rows a drawing shares with the table beside it.

/// Heights of the rows a drawing shares with its table, from the top: floor and storey by
/// turns, then the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Rows {
    /// Height of a floor's row, px.
    pub floor_px: f64,
    /// Heights of the storeys' rows from the ground up, px.
    pub storey_px: Vec<f64>,
    /// Height of the row of the ground, px.
    pub ground_px: f64,
}

impl Rows {
    /// Rows whose floors stand apart to scale with the storey heights; each floor has room
    /// for the figures of so many connecting slabs.
    pub fn of(heights_m: &[f64], slabs: usize) -> Self {
        const SLAB_ROW_PX: f64 = 54.0;
        const LEAST_STOREY_PX: f64 = 50.0;
        const COMFORTABLE_PX_M: f64 = 26.0;
        let floor_px = SLAB_ROW_PX * slabs.max(1) as f64;
        let lowest = heights_m.iter().copied().fold(f64::INFINITY, f64::min).max(0.5);
        let scale = COMFORTABLE_PX_M.max((floor_px + LEAST_STOREY_PX) / lowest);
        // A storey's row is what is left between the middles of the rows above and below it.
        let row = |(place, height): (usize, &f64)| {
            let below = if place == 0 { SLAB_ROW_PX } else { floor_px };
            (height * scale - (floor_px + below) / 2.0).round()
        };
        Self { floor_px, storey_px: heights_m.iter().enumerate().map(row).collect(), ground_px: SLAB_ROW_PX }
    }

    /// Height of everything, px.
    pub fn height_px(&self) -> f64 {
        self.storey_px.iter().sum::<f64>() + self.floor_px * self.storey_px.len() as f64 + self.ground_px
    }

    /// Where the line of a level is drawn: the middle of its row; level 0 is the ground.
    pub fn level_px(&self, level: usize) -> f64 {
        let above = &self.storey_px[level.min(self.storey_px.len())..];
        let own = if level == 0 { self.ground_px } else { self.floor_px };
        above.iter().sum::<f64>() + self.floor_px * above.len() as f64 + own / 2.0
    }

    /// The middle of a storey's row.
    pub fn storey_middle_px(&self, storey: usize) -> f64 {
        (self.level_px(storey) + self.level_px(storey - 1)) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::Rows;

    #[test]
    fn rows_stand_apart_as_the_floors_do() {
        let rows = Rows::of(&[4.2, 3.5, 3.5], 1);
        let metre = (rows.level_px(1) - rows.level_px(2)) / 3.5;
        assert!(((rows.level_px(0) - rows.level_px(1)) / 4.2 - metre).abs() < 0.3);
        assert!(rows.storey_px.iter().all(|height| *height >= 44.0));
        let double = Rows::of(&[3.5, 3.5], 2);
        assert_eq!(double.floor_px, 2.0 * rows.floor_px);
        let rises = [double.level_px(0) - double.level_px(1), double.level_px(1) - double.level_px(2)];
        assert!((rises[0] - rises[1]).abs() <= 1.0, "{rises:?}");
        assert!((rows.height_px() - rows.level_px(0) - rows.ground_px / 2.0).abs() < 1e-9);
    }
}
