//! One interval of the semi-discretization, solved exactly.

use super::OrientedMode;
use super::directional::Coupling;
use super::semi_discretization::Order;

/// A block of displacements or velocities between modes.
type Block<const M: usize> = [[f64; M]; M];

/// Displacements and velocities. Time is counted in intervals.
pub(super) type Motion<const M: usize> = [[f64; M]; 2];

/// How displacements and velocities follow from those before.
pub(super) type Carry<const M: usize> = [[Block<M>; 2]; 2];

/// How displacements and velocities follow from a delayed displacement.
pub(super) type Feed<const M: usize> = [Block<M>; 2];

/// What one interval does with what goes into it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Interval<const M: usize> {
    pub carry: Carry<M>,
    /// Of the displacement one tooth before its start, and before its end.
    pub feed: [Feed<M>; 2],
}

impl<const M: usize> Interval<M> {
    /// Of `modes` over `step` s, with a force per displacement of `coupling` over
    /// modal mass (1/s2) against what moved since the last tooth.
    ///
    /// Taylor series of the solution over so short a piece that its terms die out
    /// at once; then pieces are doubled.
    pub fn new(modes: &[OrientedMode; M], step: f64, coupling: &Coupling<M>, order: Order) -> Self {
        const TERMS: u32 = 14;
        let cut = coupling.map(|row| row.map(|cell| cell * step * step));
        let damping: [f64; M] = std::array::from_fn(|i| 2.0 * modes[i].mode.damping * modes[i].omega() * step);
        let mut spring = cut;
        for (i, oriented) in modes.iter().enumerate() {
            spring[i][i] += (oriented.omega() * step).powi(2);
        }
        // Turned or damped by less than half a radian in one piece.
        let stiffest = spring.iter().map(|row| row.iter().map(|cell| cell.abs()).sum::<f64>()).fold(0.0, f64::max);
        let quickest = stiffest.sqrt() + damping.iter().copied().fold(0.0, f64::max);
        let doublings = (2.0 * quickest).log2().ceil().clamp(0.0, 1000.0) as i32;
        let piece = 0.5_f64.powi(doublings);

        // Columns: from a displacement of one, a velocity of one, a delayed
        // displacement of one, and one that grows by one in an interval.
        let one: Block<M> = std::array::from_fn(|i| std::array::from_fn(|k| f64::from(u8::from(i == k))));
        let zero = [[0.0; M]; M];
        let (mut place, mut speed) = ([one, zero, zero, zero], [zero, one, zero, zero]);
        let (mut places, mut speeds) = (place, speed);
        for term in 0..TERMS {
            let over = piece / f64::from(term + 1);
            let mut push: [Block<M>; 4] = std::array::from_fn(|column| {
                let restored = product(&spring, &place[column]);
                std::array::from_fn(|i| std::array::from_fn(|k| -restored[i][k] - damping[i] * speed[column][i][k]))
            });
            match term {
                0 => add(&mut push[2], &cut, 1.0),
                1 => add(&mut push[3], &cut, piece),
                _ => {}
            }
            place = speed.map(|block| block.map(|row| row.map(|cell| cell * over)));
            speed = push.map(|block| block.map(|row| row.map(|cell| cell * over)));
            for column in 0..4 {
                add(&mut places[column], &place[column], 1.0);
                add(&mut speeds[column], &speed[column], 1.0);
            }
        }
        let mut carry = [[places[0], places[1]], [speeds[0], speeds[1]]];
        let (mut constant, mut ramp) = ([places[2], speeds[2]], [places[3], speeds[3]]);
        let mut length = piece;
        for _ in 0..doublings {
            // The second half starts from what the first left, and from a ramp
            // that has already grown by `length`.
            let mut more = after(&carry, &ramp);
            for row in 0..2 {
                add(&mut more[row], &ramp[row], 1.0);
                add(&mut more[row], &constant[row], length);
            }
            ramp = more;
            let mut more = after(&carry, &constant);
            (0..2).for_each(|row| add(&mut more[row], &constant[row], 1.0));
            constant = more;
            carry = follow(&carry, &carry);
            length *= 2.0;
        }
        let feed = match order {
            Order::Zeroth => [constant.map(|block| block.map(|row| row.map(|cell| 0.5 * cell))); 2],
            Order::First => {
                (0..2).for_each(|row| add(&mut constant[row], &ramp[row], -1.0));
                [constant, ramp]
            }
        };
        Interval { carry, feed }
    }
}

/// `second` after `first`.
pub(super) fn follow<const M: usize>(second: &Carry<M>, first: &Carry<M>) -> Carry<M> {
    let column = |k: usize| after(second, &[first[0][k], first[1][k]]);
    let [left, right] = [column(0), column(1)];
    [[left[0], right[0]], [left[1], right[1]]]
}

/// `out += block * vector`, for both rows.
pub(super) fn accumulate<const M: usize>(out: &mut Motion<M>, blocks: &Feed<M>, vector: &[f64; M]) {
    for (out, block) in out.iter_mut().zip(blocks) {
        for (out, row) in out.iter_mut().zip(block) {
            *out += row.iter().zip(vector).map(|(cell, value)| cell * value).sum::<f64>();
        }
    }
}

/// `motion` carried on.
pub(super) fn carried<const M: usize>(carry: &Carry<M>, [place, speed]: &Motion<M>) -> Motion<M> {
    let row = |[by_place, by_speed]: &[Block<M>; 2]| {
        std::array::from_fn(|i| (0..M).map(|k| by_place[i][k] * place[k] + by_speed[i][k] * speed[k]).sum::<f64>())
    };
    [row(&carry[0]), row(&carry[1])]
}

fn after<const M: usize>(carry: &Carry<M>, [place, speed]: &Feed<M>) -> Feed<M> {
    [0, 1].map(|row| {
        let mut out = product(&carry[row][0], place);
        add(&mut out, &product(&carry[row][1], speed), 1.0);
        out
    })
}

fn product<const M: usize>(a: &Block<M>, b: &Block<M>) -> Block<M> {
    std::array::from_fn(|i| std::array::from_fn(|k| (0..M).map(|j| a[i][j] * b[j][k]).sum()))
}

fn add<const M: usize>(out: &mut Block<M>, block: &Block<M>, factor: f64) {
    for (out, row) in out.iter_mut().zip(block) {
        for (out, cell) in out.iter_mut().zip(row) {
            *out += factor * cell;
        }
    }
}
