//! What the cuts show.

use super::contrast::{Contrast, Group};
use super::plan::{ALARM, FEWEST, cuts_needed, smallest_effect};
use super::{Evidence, Trial, Turns};

/// Why nothing can be said yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TooFew {
    /// So many cuts of each kind were written down; it takes three.
    Cuts([usize; 2]),
    /// Cuts that were taken turn and turn about are not as many of each kind.
    Unpaired([usize; 2]),
    /// No pair was judged in which a difference was seen.
    Pairs,
}

/// A ratio of now to before, and the range that holds it 19 times out of 20.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs, reason = "said above")]
pub struct Ratio {
    pub low: f64,
    pub mid: f64,
    pub high: f64,
}

/// Whether it made a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is better.
    Better,
    /// It is better, but by less than matters.
    LittleBetter,
    /// It is the same, within what matters.
    Same,
    /// It is worse, but by less than matters.
    LittleWorse,
    /// It is worse.
    Worse,
    /// There are too few cuts for their scatter.
    CannotTell,
}

impl Verdict {
    /// In a few words.
    pub fn label(self) -> &'static str {
        match self {
            Verdict::Better => "A real difference: better",
            Verdict::LittleBetter => "Better, but by less than matters to you",
            Verdict::Same => "No difference that matters",
            Verdict::LittleWorse => "Worse, but by less than matters to you",
            Verdict::Worse => "A real difference: worse",
            Verdict::CannotTell => "Can’t tell yet",
        }
    }
}

/// What the cuts of a trial show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Now over before; of pairs there is none.
    pub ratio: Option<Ratio>,
    /// The same of the cuts that nothing was changed about, if there are any: it is
    /// taken out of the ratio.
    pub control: Option<Ratio>,
    /// How often chance alone would show as much.
    pub by_chance: f64,
    /// Whether it made a difference.
    pub verdict: Verdict,
    /// Scatter of one cut, a share; of pairs there is none.
    pub scatter: Option<f64>,
    /// Cuts of each kind, or pairs in which a difference was seen.
    pub cuts: usize,
    /// The smallest change, a share, that so many cuts show in four trials of five; of
    /// pairs there is none.
    pub shows: Option<f64>,
    /// Cuts of each kind that would likely settle it, where these can't.
    pub would_settle: Option<usize>,
}

impl Trial {
    /// What its cuts show.
    ///
    /// # Errors
    /// [`TooFew`] where they show nothing yet.
    pub fn outcome(&self) -> Result<Outcome, TooFew> {
        match self.evidence {
            Evidence::Pairs => self.of_pairs(),
            _ => self.of_cuts(),
        }
    }

    fn of_pairs(&self) -> Result<Outcome, TooFew> {
        let pairs = self.pairs;
        let seen = pairs.better + pairs.worse;
        if seen == 0 {
            return Err(TooFew::Pairs);
        }
        let by_chance = pairs.by_chance();
        let verdict = match by_chance < ALARM {
            true if pairs.better > pairs.worse => Verdict::Better,
            true => Verdict::Worse,
            false => Verdict::CannotTell,
        };
        let cuts = seen as usize;
        let (ratio, control, scatter, shows, would_settle) = (None, None, None, None, None);
        Ok(Outcome { ratio, control, by_chance, verdict, scatter, cuts, shows, would_settle })
    }

    /// How many cuts of each kind there are, and what is to be added up of them.
    fn groups(&self) -> Result<(usize, Vec<(Group, f64)>), TooFew> {
        let counts = self.cuts.each_ref().map(Vec::len);
        if counts.into_iter().any(|count| count < FEWEST) {
            return Err(TooFew::Cuts(counts));
        }
        let [was, now] = logarithms(&self.cuts);
        let group = |cuts: &[f64]| Group::of(cuts).ok_or(TooFew::Cuts(counts));
        let groups = match self.turns {
            Turns::About if was.len() != now.len() => return Err(TooFew::Unpaired(counts)),
            Turns::About => {
                let differences: Vec<f64> = was.iter().zip(&now).map(|(was, now)| now - was).collect();
                vec![(group(&differences)?, 1.0)]
            }
            Turns::After => vec![(group(&now)?, 1.0), (group(&was)?, -1.0)],
        };
        Ok((counts[0].min(counts[1]), groups))
    }

    /// Scatter of one cut, as a logarithm, if there are enough of them.
    pub(super) fn scatter(&self) -> Option<f64> {
        let (_, groups) = self.groups().ok().filter(|_| self.evidence != Evidence::Pairs)?;
        Some(scatter(&groups))
    }

    fn of_cuts(&self) -> Result<Outcome, TooFew> {
        let (cuts, mut groups) = self.groups()?;
        let scatter = scatter(&groups);
        let judging = 2.0 * self.step().powi(2);
        let control = self.control_groups();
        let mut known = judging;
        if let Some([now, was]) = control {
            groups.extend([(now, -1.0), (was, 1.0)]);
            known += judging;
        }
        let contrast = Contrast::welch(&groups, known);
        let verdict = self.verdict(&contrast);
        let would_settle = (verdict == Verdict::CannotTell)
            .then(|| cuts_needed(self.matters.ln_1p(), scatter, self.step(), self.turns))
            .flatten()
            // It lies near what matters: more than the plan asks for.
            .map(|each| if each > cuts { each } else { 2 * cuts });
        Ok(Outcome {
            ratio: Some(ratio(&contrast)),
            control: control.map(|[now, was]| ratio(&Contrast::welch(&[(now, 1.0), (was, -1.0)], judging))),
            by_chance: contrast.by_chance(),
            verdict,
            scatter: Some(scatter),
            cuts,
            shows: Some(smallest_effect(cuts, scatter, self.step(), self.turns).exp_m1()),
            would_settle,
        })
    }

    /// What the cuts as it was say of the machine: their middle (mm) and the margin
    /// that holds the truth 19 times out of 20, judging them included.
    pub fn as_it_was(&self) -> Option<(f64, f64)> {
        let [was, _] = logarithms(&self.cuts);
        let Group { count, mean, variance } = Group::of(&was).filter(|_| self.evidence != Evidence::Pairs)?;
        let judging = if self.evidence == Evidence::Finish { self.judged.log_sd() } else { 0.0 };
        let error = (variance / count as f64).sqrt().hypot(judging).hypot(self.step());
        Some((mean.exp(), 1.96 * error * mean.exp()))
    }

    /// The cuts that nothing was changed about, now and before, if there are enough.
    fn control_groups(&self) -> Option<[Group; 2]> {
        let [was, now] = logarithms(&self.control);
        Some([Group::of(&now)?, Group::of(&was)?])
    }

    /// Equivalence by two one-sided tests (Schuirmann, J. Pharmacokinetics and
    /// Biopharmaceutics 15 (1987)): the range of nine in ten lies within what matters.
    fn verdict(&self, contrast: &Contrast) -> Verdict {
        let good = if self.more_is_better() { contrast.estimate } else { -contrast.estimate };
        let better = Contrast { estimate: good, ..*contrast };
        let (low, high) = better.interval(1.0 - ALARM);
        let (inner_low, inner_high) = better.interval(1.0 - 2.0 * ALARM);
        let matters = self.matters.ln_1p();
        let little = inner_low > -matters && inner_high < matters;
        match (low > 0.0, high < 0.0) {
            (true, _) if little => Verdict::LittleBetter,
            (true, _) => Verdict::Better,
            (_, true) if little => Verdict::LittleWorse,
            (_, true) => Verdict::Worse,
            _ if little => Verdict::Same,
            _ => Verdict::CannotTell,
        }
    }
}

/// Two lots of cuts, or the differences of pairs, have the variance of two cuts.
fn scatter(groups: &[(Group, f64)]) -> f64 {
    (groups.iter().map(|(group, _)| group.variance).sum::<f64>() / 2.0).sqrt()
}

fn logarithms(lots: &[Vec<f64>; 2]) -> [Vec<f64>; 2] {
    lots.each_ref().map(|lot| lot.iter().map(|value| value.ln()).collect())
}

fn ratio(contrast: &Contrast) -> Ratio {
    let (low, high) = contrast.interval(1.0 - ALARM);
    Ratio { low: low.exp(), mid: contrast.estimate.exp(), high: high.exp() }
}
