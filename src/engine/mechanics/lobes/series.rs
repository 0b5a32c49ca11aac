//! A function that is analytic in the unit disc, known at evenly spaced points of
//! the unit circle: its power series, and how often it goes round the origin.

use std::f64::consts::PI;

use super::Complex;

/// The first coefficients of a power series whose coefficients are real.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Series {
    coefficients: Vec<f64>,
}

impl Series {
    /// Through `values` at evenly spaced angles of `z` from 0 to pi; the other half
    /// of the circle mirrors them. As many coefficients as there are points on the
    /// whole circle: those beyond are taken for the first ones again.
    pub fn through(values: &[Complex]) -> Self {
        let spaces = values.len() - 1;
        let turns: Vec<Complex> = (0..2 * spaces).map(|i| Complex::turn(-PI * i as f64 / spaces as f64)).collect();
        let coefficient = |power: usize| {
            let inner = (1..spaces).map(|i| (values[i] * turns[power * i % turns.len()]).re).sum::<f64>();
            let ends = values[0].re + (values[spaces] * turns[power * spaces % turns.len()]).re;
            (2.0 * inner + ends) / turns.len() as f64
        };
        Series { coefficients: (0..turns.len()).map(coefficient).collect() }
    }

    /// At `angle` on the unit circle, and how it changes there per radian along it.
    pub fn at(&self, angle: f64) -> (Complex, Complex) {
        let z = Complex::turn(angle);
        let start = (Complex::default(), Complex::default());
        let (value, slope) = self
            .coefficients
            .iter()
            .rev()
            .fold(start, |(sum, slope), &one| (sum * z + Complex::real(one), slope * z + sum));
        (value, slope * z * Complex::new(0.0, 1.0))
    }

    /// By how much it may be off anywhere on the circle. Coefficients of an entire
    /// function die out ever faster, so those left out, and taken for others, come
    /// to less than the last ones that were not.
    pub fn error(&self) -> f64 {
        const LAST: usize = 4;
        const ROUNDING: f64 = 1e-12;
        let size = |some: &[f64]| some.iter().map(|one| one.abs()).sum::<f64>();
        let all = &self.coefficients[..];
        2.0 * size(&all[all.len().saturating_sub(LAST)..]) + ROUNDING * size(all)
    }
}

/// How far (rad) a function turns about the origin along its argument, looked at
/// in the order of `angles` and wherever it turns too fast between two; and the
/// least magnitude met. `at` is the function and its slope.
pub(super) fn winding(angles: &[f64], at: impl Fn(f64) -> (Complex, Complex)) -> (f64, f64) {
    /// Turn (rad) from one point to the next that is taken on trust.
    const TRUSTED: f64 = 1.0;
    /// Change that the slope at either of two points promises on the way to the other,
    /// over the value there, that is taken on trust. Past two zeros side by side the
    /// function turns once round, which looks like nothing; half-way between the points
    /// they make this four.
    const STEEP: f64 = 2.5;
    /// Halvings of the way between two points, and points added in all: a zero on
    /// the way, or numbers at their end, need infinitely many.
    const HALVINGS: u32 = 40;
    const ADDED: u32 = 2000;
    let point = |angle: f64| {
        let (value, slope) = at(angle);
        (angle, value, (slope.norm() / value.norm()).sqrt())
    };
    let (mut turned, mut added, mut here) = (0.0, 0, point(angles[0]));
    let mut least = here.1.norm();
    for &angle in &angles[1..] {
        let mut ahead = vec![(point(angle), HALVINGS)];
        while let Some(&(next, halvings)) = ahead.last() {
            let turn = (here.1.conj() * next.1).arg();
            let steep = (next.0 - here.0) * here.2.max(next.2);
            if (turn.abs() > TRUSTED || steep > STEEP) && halvings > 0 && added < ADDED {
                added += 1;
                ahead.push((point(0.5 * (here.0 + next.0)), halvings - 1));
            } else {
                turned += turn;
                least = least.min(next.1.norm());
                here = next;
                ahead.pop();
            }
        }
    }
    (turned, least.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angles() -> Vec<f64> {
        (0..=40).map(|i| PI * f64::from(i) / 40.0).collect()
    }

    /// The exponential series, and that the error said is no less than the true one.
    #[test]
    fn the_series_of_an_entire_function() {
        for (spaces, strength) in [(6_u32, 1.0), (11, 2.0), (22, 5.0), (8, 5.0)] {
            let of = |angle: f64| {
                let z = Complex::turn(angle).scale(strength);
                Complex::turn(z.im).scale(z.re.exp())
            };
            let values: Vec<Complex> = (0..=spaces).map(|i| of(PI * f64::from(i) / f64::from(spaces))).collect();
            let series = Series::through(&values);
            let worst = angles().into_iter().map(|angle| (series.at(angle).0 - of(angle)).abs()).fold(0.0, f64::max);
            assert!(worst <= series.error(), "{spaces} {strength}: {worst} beyond {}", series.error());
            assert!(series.error() < 0.1 * strength.exp(), "{spaces} {strength}: {}", series.error());
        }
    }

    /// A polynomial goes round half a turn of the upper half circle for each zero
    /// inside, however close to the circle, and to one another.
    #[test]
    fn zeros_inside_the_circle_are_counted() {
        let apart = [(0.5, 0.0), (0.999, 1.0), (0.999, -1.0), (1.001, 2.0), (1.001, -2.0), (3.0, PI)];
        // Half-way between two of the points that are looked at.
        let middle = 20.5 * PI / 40.0;
        let beside = [(0.5, 0.0), (1.003, middle), (1.003, -middle), (1.0031, middle), (1.0031, -middle), (3.0, PI)];
        for (zeros, inside) in [(apart, 3.0), (beside, 1.0)] {
            let factors = |angle: f64| zeros.map(|(size, turn)| Complex::turn(angle) - Complex::turn(turn).scale(size));
            let of = |angle: f64| {
                let factors = factors(angle);
                let value = factors.into_iter().fold(Complex::real(1.0), |product, factor| product * factor);
                // The product rule, without dividing.
                let slope = (0..factors.len()).fold(Complex::default(), |sum, left_out| {
                    let others = factors.iter().enumerate().filter(|(at, _)| *at != left_out);
                    sum + others.fold(Complex::real(1.0), |product, (_, &factor)| product * factor)
                });
                (value, slope * Complex::turn(angle) * Complex::new(0.0, 1.0))
            };
            let (turned, least) = winding(&angles(), of);
            assert_eq!((turned / PI).round(), inside);
            assert!(least > 0.0 && least < 0.1, "{least}");
        }
    }
}
