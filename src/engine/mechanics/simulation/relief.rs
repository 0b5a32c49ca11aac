//! A surface as a map of heights.

use super::chance::uneven;

/// Heights (mm) on an even grid, positive where material is left standing.
#[derive(Clone, Debug, PartialEq)]
pub struct Relief {
    /// Along the feed, mm.
    pub spacing: f64,
    /// From row to row, mm.
    pub rise: f64,
    /// Rows along the feed, all of one length.
    pub rows: Vec<Vec<f64>>,
}

impl Relief {
    /// Points along the feed.
    pub fn columns(&self) -> usize {
        self.rows.first().map_or(0, Vec::len)
    }

    /// Length and height of what is mapped, mm.
    pub fn size(&self) -> (f64, f64) {
        (self.spacing * self.columns() as f64, self.rise * self.rows.len() as f64)
    }

    /// Height (mm) at `x` along the feed and `y` up the rows (mm), straight
    /// between the points, level beyond the edges.
    pub fn height(&self, x: f64, y: f64) -> f64 {
        let between = |place: f64, count: usize| {
            let place = place.clamp(0.0, (count - 1) as f64);
            let low = (place as usize).min(count.saturating_sub(2));
            (low, (low + 1).min(count - 1), place - low as f64)
        };
        let (left, right, along) = between(x / self.spacing, self.columns());
        // A row stands for the stretch about its middle.
        let (below, above, up) = between(y / self.rise - 0.5, self.rows.len());
        let on = |row: usize| {
            let row = &self.rows[row];
            row[left] + along * (row[right] - row[left])
        };
        on(below) + up * (on(above) - on(below))
    }

    /// Root mean square of the slope along the feed.
    pub fn steepness(&self) -> f64 {
        let slopes = self.rows.iter().flat_map(|row| row.windows(2).map(|pair| (pair[1] - pair[0]) / self.spacing));
        let (count, sum) = slopes.fold((0_u32, 0.0), |(count, sum), slope| (count + 1, sum + slope * slope));
        (sum / f64::from(count.max(1))).sqrt()
    }

    /// The same with a grain of roughness `ra` (mm) on it, as tearing, ploughing
    /// and built-up edge leave: lumps of about this length along the feed and
    /// height (mm), the same every time.
    pub fn grained(&self, ra: f64, (long, high): (f64, f64)) -> Relief {
        /// Rows enough for a picture.
        const MOST_ROWS: f64 = 96.0;
        let (_, height) = self.size();
        let count = (3.0 * height / high).clamp(self.rows.len() as f64, MOST_ROWS.max(self.rows.len() as f64)) as usize;
        let rise = height / count as f64;
        // Each line of lumps starts at a place of its own, or they would stand in
        // columns.
        let lump = |x: f64, y: f64| {
            let (below, up) = eased(y / high);
            let on = |line: u32| {
                let (left, along) = eased(x / long + 1.0 + uneven(line, u32::MAX));
                let (from, to) = (uneven(left, line), uneven(left + 1, line));
                from + along * (to - from)
            };
            on(below) + up * (on(below + 1) - on(below))
        };
        let at = |row: usize, column: usize| (self.spacing * column as f64, rise * (row as f64 + 0.5));
        let grid = |value: &dyn Fn(f64, f64) -> f64| -> Vec<Vec<f64>> {
            let row = |row| (0..self.columns()).map(|column| at(row, column)).map(|(x, y)| value(x, y)).collect();
            (0..count).map(row).collect()
        };
        let lumps = grid(&lump);
        let points = (count * self.columns()) as f64;
        let mean = lumps.iter().flatten().sum::<f64>() / points;
        let size_of_lumps = lumps.iter().flatten().map(|lump| (lump - mean).abs()).sum::<f64>() / points;
        let scale = ra / size_of_lumps.max(f64::MIN_POSITIVE);
        let mut rows = grid(&|x, y| self.height(x, y));
        for (height, lump) in rows.iter_mut().flatten().zip(lumps.iter().flatten()) {
            *height += scale * (lump - mean);
        }
        Relief { spacing: self.spacing, rise, rows }
    }
}

/// The cell that `place` lies in and how far in, eased so that slopes have no
/// edges.
fn eased(place: f64) -> (u32, f64) {
    let share = place.fract();
    (place as u32, share * share * (3.0 - 2.0 * share))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ramp() -> Relief {
        let row = |z: f64| (0..11).map(|i| 0.1 * f64::from(i) + z).collect();
        Relief { spacing: 1.0, rise: 2.0, rows: vec![row(0.0), row(1.0)] }
    }

    #[test]
    fn heights_between_points_lie_on_the_straight_line() {
        let relief = ramp();
        assert_eq!(relief.size(), (11.0, 4.0));
        assert!((relief.height(3.5, 1.0) - 0.35).abs() < 1e-12);
        assert!((relief.height(3.5, 2.0) - 0.85).abs() < 1e-12);
        assert!((relief.height(99.0, 99.0) - 2.0).abs() < 1e-12);
        assert!((relief.steepness() - 0.1).abs() < 1e-12);
    }

    #[test]
    fn one_row_is_the_same_all_the_way_up() {
        let relief = Relief { rows: vec![vec![0.0, 2.0]], ..ramp() };
        assert_eq!([0.0, 1.0, 9.0].map(|y| relief.height(0.5, y)), [1.0; 3]);
    }

    #[test]
    fn grain_has_the_roughness_asked_for() {
        let flat = Relief { spacing: 0.002, rise: 0.3, rows: vec![vec![0.0; 500]; 2] };
        let rough = flat.grained(1.5e-3, (0.1, 0.03));
        let (length, height) = rough.size();
        assert!((length - 1.0).abs() < 1e-9 && (height - 0.6).abs() < 1e-9);
        let all = rough.rows.concat();
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        let ra = all.iter().map(|z| (z - mean).abs()).sum::<f64>() / all.len() as f64;
        assert!(mean.abs() < 1e-9 && (ra - 1.5e-3).abs() < 1e-9, "{mean} {ra}");
        assert_eq!(rough, flat.grained(1.5e-3, (0.1, 0.03)), "the same every time");
    }
}
