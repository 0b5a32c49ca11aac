//! Finds the sets worth choosing among thousands, exactly, without trying every
//! one of them on every machine.
//!
//! All are tried on the same machines. What is known of a set after some of
//! them bounds what it can come to on all: it drops out as soon as, even if all
//! went well from there, it could stand on no staircase and be no best buy. So
//! the outcome is that of trying everything; only the work is less. (Branch and
//! bound; the racing is that of Maron and Moore, Advances in Neural Information
//! Processing Systems 6 (1994), but with certain bounds instead of likely ones.)

use super::staircase::Staircase;
use crate::order;

/// One of those to choose from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Runner {
    /// What it costs in money.
    pub money: f64,
    /// What it costs in hours.
    pub hours: f64,
    /// What it costs in all, in units of what reaching the goal is worth.
    pub cost: f64,
    /// The most of the goal it could reach on any machine.
    pub most: f64,
}

/// What a runner does on one machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lap {
    /// Whether it reaches the goal.
    pub reached: bool,
    /// Roughness; smaller is better.
    pub finish: f64,
    /// Share of the goal, 0 to [`Runner::most`].
    pub quality: f64,
}

/// Who is worth choosing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Podium {
    /// Share of the machines on which the goal is reached, against money.
    pub reach_by_money: Staircase,
    /// The same against hours.
    pub reach_by_hours: Staircase,
    /// Minus the roughness that eight machines in ten keep to, against money.
    pub finish_by_money: Staircase,
    /// The same against hours.
    pub finish_by_hours: Staircase,
    /// The best buy: the largest mean quality less cost, and who has it.
    pub best_buy: Option<(f64, usize)>,
}

/// The race. Call [`Race::step`] until it is [done](Race::done).
#[derive(Clone, Debug)]
pub struct Race {
    runners: Vec<Runner>,
    /// In which order they run: what is cheap first, so that it is there to be
    /// compared with.
    order: Vec<usize>,
    next: usize,
    /// In which order machines are tried: those on which most fail first, for they
    /// settle soonest that a runner can't win.
    machines: Vec<usize>,
    /// What was seen of each machine.
    seen: Vec<Seen>,
    podium: Podium,
    laps: u64,
}

/// How runners fared on one machine.
#[derive(Clone, Copy, Debug, Default)]
struct Seen {
    laps: u32,
    /// Laps that missed the goal, and laps that were rougher than a bar.
    missed: u32,
}

impl Seen {
    /// Share of the bars that runners missed here; of a machine hardly seen, more
    /// than most: it is worth a look.
    fn against(self) -> f64 {
        (f64::from(self.missed) + 3.0) / (f64::from(self.laps) + 1.0)
    }
}

/// Runners between two sortings of the machines.
const SORT: usize = 64;

/// The share of machines that the finish counted on is kept on.
pub const COUNTED_ON: f64 = 0.8;

impl Race {
    /// A race of `runners` over so many machines.
    pub fn new(runners: Vec<Runner>, machines: usize) -> Self {
        let mut order: Vec<usize> = (0..runners.len()).collect();
        order::sort(&mut order, |&a, &b| {
            let (a, b) = (&runners[a], &runners[b]);
            a.money.total_cmp(&b.money).then(a.hours.total_cmp(&b.hours)).then(a.cost.total_cmp(&b.cost))
        });
        Race {
            runners,
            order,
            next: 0,
            machines: (0..machines).collect(),
            seen: vec![Seen::default(); machines],
            podium: Podium::default(),
            laps: 0,
        }
    }

    /// Whether all have run.
    pub fn done(&self) -> bool {
        self.next == self.order.len()
    }

    /// The share that has run, 0 to 1.
    pub fn progress(&self) -> f64 {
        if self.order.is_empty() { 1.0 } else { self.next as f64 / self.order.len() as f64 }
    }

    /// Laps run so far.
    pub fn laps(&self) -> u64 {
        self.laps
    }

    /// Who is worth choosing, of those that have run.
    pub fn podium(&self) -> &Podium {
        &self.podium
    }

    /// Lets the next one run: `lap` tells what it does on a machine.
    pub fn step<L: FnMut(usize) -> Lap>(&mut self, course: impl FnOnce(usize) -> L) {
        let Some(&who) = self.order.get(self.next) else { return };
        let mut lap = course(who);
        self.next += 1;
        if self.next.is_multiple_of(SORT) {
            order::greatest_first(&mut self.machines, |&machine| self.seen[machine].against());
        }
        let runner = self.runners[who];
        let count = self.machines.len();
        let bars = Bars::new(&self.podium, &runner);
        let mut so_far = SoFar::default();
        let mut finishes = Vec::with_capacity(count);
        for (at, &machine) in self.machines.iter().enumerate() {
            let now = lap(machine);
            self.laps += 1;
            finishes.push(now.finish);
            so_far.add(&now, &bars);
            let seen = &mut self.seen[machine];
            seen.laps += 1;
            seen.missed += u32::from(!now.reached) + bars.rougher(&now).map(u32::from).iter().sum::<u32>();
            if bars.hopeless(&so_far, &runner, at + 1, count) {
                return;
            }
        }
        let reach = so_far.reached as f64 / count as f64;
        let finish = -counted_on(&mut finishes);
        let net = so_far.quality / count as f64 - runner.cost;
        let podium = &mut self.podium;
        podium.reach_by_money.offer(runner.money, reach, who);
        podium.reach_by_hours.offer(runner.hours, reach, who);
        podium.finish_by_money.offer(runner.money, finish, who);
        podium.finish_by_hours.offer(runner.hours, finish, who);
        if podium.best_buy.is_none_or(|(best, _)| net > best) {
            podium.best_buy = Some((net, who));
        }
    }
}

/// How many of `count` machines may be rougher than the finish counted on.
fn spared(count: usize) -> usize {
    count - (COUNTED_ON * count as f64).ceil() as usize
}

/// The roughness that [`COUNTED_ON`] of the machines keep to.
pub fn counted_on(finishes: &mut [f64]) -> f64 {
    let rank = finishes.len() - 1 - spared(finishes.len());
    order::at_rank(finishes, rank)
}

/// What a runner has to beat.
struct Bars {
    /// Reach for no more money, and for no more hours.
    reach: [f64; 2],
    /// Roughness for no more money, and for no more hours.
    finish: [f64; 2],
    /// Net worth.
    net: f64,
}

#[derive(Default)]
struct SoFar {
    reached: usize,
    quality: f64,
    /// Machines on which it is no smoother than the bars.
    rough: [usize; 2],
}

impl SoFar {
    fn add(&mut self, lap: &Lap, bars: &Bars) {
        self.reached += usize::from(lap.reached);
        self.quality += lap.quality;
        for (rough, rougher) in self.rough.iter_mut().zip(bars.rougher(lap)) {
            *rough += usize::from(rougher);
        }
    }
}

impl Bars {
    fn new(podium: &Podium, runner: &Runner) -> Self {
        Bars {
            reach: [podium.reach_by_money.best(runner.money), podium.reach_by_hours.best(runner.hours)],
            finish: [-podium.finish_by_money.best(runner.money), -podium.finish_by_hours.best(runner.hours)],
            net: podium.best_buy.map_or(f64::NEG_INFINITY, |(net, _)| net),
        }
    }

    /// Whether a lap is no smoother than the bars.
    fn rougher(&self, lap: &Lap) -> [bool; 2] {
        self.finish.map(|bar| lap.finish >= bar)
    }

    /// Whether, `tried` machines of `count` later, nothing can be won any more.
    fn hopeless(&self, so_far: &SoFar, runner: &Runner, tried: usize, count: usize) -> bool {
        let left = (count - tried) as f64;
        let reach = (so_far.reached as f64 + left) / count as f64;
        let net = (so_far.quality + left * runner.most) / count as f64 - runner.cost;
        self.reach.iter().all(|&bar| reach <= bar)
            && so_far.rough.iter().all(|&rough| rough > spared(count))
            && net <= self.net
    }
}
