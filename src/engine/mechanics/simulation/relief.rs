//! A surface as a map of heights.

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

    /// Roughens it as tearing, ploughing and built-up edge do: an uneven grain
    /// along the feed of mean height `ra` (mm), a new one on every stretch of
    /// `grain` mm. The same every time.
    pub fn roughened(mut self, ra: f64, grain: f64) -> Relief {
        // Values spread evenly from -1 to 1 and drawn out straight between: the
        // mean of |(1 - t) a + t b| is 3/8 + (ln 2 - 5/8) / 3.
        let scale = ra / (3.0 / 8.0 + (std::f64::consts::LN_2 - 5.0 / 8.0) / 3.0);
        let step = (grain / self.spacing).max(1.0);
        let up = (grain / self.rise).max(1e-9);
        for (at, row) in self.rows.iter_mut().enumerate() {
            let line = (at as f64 / up) as u32;
            for (point, height) in row.iter_mut().enumerate() {
                let place = point as f64 / step;
                let (cell, share) = (place as u32, place.fract());
                let value = uneven(cell, line) * (1.0 - share) + uneven(cell + 1, line) * share;
                *height += scale * value;
            }
        }
        self
    }
}

/// A number between -1 and 1 that looks like chance: the finalizer of
/// MurmurHash3 (public domain) on the two counters.
fn uneven(a: u32, b: u32) -> f64 {
    let mut bits = a.wrapping_mul(0x9E37_79B1) ^ b.wrapping_mul(0x85EB_CA77);
    for (shift, factor) in [(16, 0x85EB_CA6B_u32), (13, 0xC2B2_AE35)] {
        bits ^= bits >> shift;
        bits = bits.wrapping_mul(factor);
    }
    bits ^= bits >> 16;
    f64::from(bits) / f64::from(u32::MAX) * 2.0 - 1.0
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
        let flat = Relief { spacing: 0.001, rise: 0.05, rows: vec![vec![0.0; 20_000]; 4] };
        let rough = flat.roughened(1.0, 0.02);
        let all: Vec<f64> = rough.rows.concat();
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        let ra = all.iter().map(|z| (z - mean).abs()).sum::<f64>() / all.len() as f64;
        assert!((ra - 1.0).abs() < 0.02, "{ra}");
    }
}
