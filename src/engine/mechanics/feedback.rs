//! How the cut feeds vibration back: force on the tool per chip thickness that
//! its motion makes, averaged over a tooth's pass and in harmonics of it.
//!
//! A tooth at angle `p` takes a dynamic chip `n . r` along `n = (sin p, cos p)`
//! and is pushed by `-b (Kt (cos p, -sin p) + Kr n)` times that: a matrix of
//! constants, `sin 2p` and `cos 2p` (Altintas and Budak, CIRP Annals 44 (1995)),
//! of which a tooth in the cut shows a piece, `N` times a revolution.

use std::f64::consts::TAU;

use super::force::Engagement;
use super::lobes::Complex;

/// Force fed back along the feed and across it, N/mm2, averaged over a
/// revolution: `N/2pi * integral` of the force per chip thickness that motion
/// makes. Negative when the force follows the motion instead of opposing it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feedback {
    /// Along the feed, by motion along it.
    pub feed: f64,
    /// Across the feed, by motion across it.
    pub normal: f64,
    /// Along the feed, by motion across it.
    pub feed_by_normal: f64,
    /// Across the feed, by motion along it.
    pub normal_by_feed: f64,
}

/// How much of a tooth's flank rubs along and across the feed, averaged over a
/// revolution: `N/2pi * integral` of the squared share of the motion that lies
/// along the chip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// For motion along the feed.
    pub feed: f64,
    /// For motion across the feed.
    pub normal: f64,
}

/// A harmonic of the feedback, in the order of [`Feedback`] as a matrix: row by
/// the force, column by the motion; along the feed first.
pub type Harmonic = [[Complex; 2]; 2];

/// The angular part of [`Feedback`].
#[derive(Clone, Debug, PartialEq)]
pub struct FeedbackGeometry {
    /// Means of `1/2`, `1/2 sin 2p` and `1/2 cos 2p` over the engagement.
    mean: [f64; 3],
    /// The same of the odd harmonics of tooth passing: first, third, ...
    odd: [[Complex; 3]; ODD],
    /// Size of each as a matrix, per root of the sum of squared coefficients.
    sizes: [f64; ODD],
}

/// Odd harmonics kept: up to the one that doubles the period of a mode with eight
/// oscillations between two teeth.
const ODD: usize = 8;

impl FeedbackGeometry {
    /// Integrates over the engagement.
    pub fn new(engagement: Engagement, teeth: u32) -> Self {
        let scale = 0.5 * f64::from(teeth) / TAU;
        let harmonic = |order: u32| -> [Complex; 3] {
            // Sines and cosines as turns: (e^2ip - e^-2ip) / 2i and so on.
            let turned = f64::from(order * teeth);
            let integral = |by: f64| turn_integral(engagement, by - turned);
            let (up, down) = (integral(2.0), integral(-2.0));
            [integral(0.0), Complex::new(0.0, -0.5) * (up - down), (up + down).scale(0.5)].map(|part| part.scale(scale))
        };
        let odd = std::array::from_fn(|i| harmonic(2 * i as u32 + 1));
        FeedbackGeometry {
            mean: harmonic(0).map(|part| part.re),
            odd,
            sizes: odd.map(|parts| (2.0 * parts.map(Complex::norm).iter().sum::<f64>()).sqrt()),
        }
    }

    /// How the flank rubs.
    pub fn contact(&self) -> Contact {
        let [one, _, cosine] = self.mean;
        Contact { feed: one - cosine, normal: one + cosine }
    }

    /// With tangential coefficient `ktc` and radial coefficient `krc`, N/mm2.
    pub fn with(&self, ktc: f64, krc: f64) -> Feedback {
        let [one, sine, cosine] = self.mean;
        let across = ktc * cosine + krc * sine;
        Feedback {
            feed: ktc * sine + krc * (one - cosine),
            normal: -ktc * sine + krc * (one + cosine),
            feed_by_normal: across + ktc * one,
            normal_by_feed: across - ktc * one,
        }
    }

    /// Root of the sum of squares of [`Self::harmonic`]; zero beyond those kept.
    pub fn harmonic_size(&self, order: u32, ktc: f64, krc: f64) -> f64 {
        self.sizes.get(order as usize / 2).map_or(0.0, |size| size * (ktc * ktc + krc * krc).sqrt())
    }

    /// The odd harmonic `order` of tooth passing, for a straight edge; zero beyond
    /// those kept.
    pub fn harmonic(&self, order: u32, ktc: f64, krc: f64) -> Harmonic {
        let [one, sine, cosine] = self.odd.get(order as usize / 2).copied().unwrap_or_default();
        let across = cosine.scale(ktc) + sine.scale(krc);
        let along = sine.scale(ktc) - cosine.scale(krc);
        let (radial, tangential) = (one.scale(krc), one.scale(ktc));
        [[radial + along, across + tangential], [across - tangential, radial - along]]
    }
}

/// Integral of `exp(i by p)` over the engagement.
fn turn_integral(Engagement { start, exit }: Engagement, by: f64) -> Complex {
    if by == 0.0 {
        return Complex::real(exit - start);
    }
    (Complex::turn(by * exit) - Complex::turn(by * start)) * Complex::new(0.0, -1.0 / by)
}
