//! Puts what looks alike close together, for gzip looks no further back than
//! 32 kB.

use std::collections::{HashMap, VecDeque};

/// How far back a packer looks, and a little less, since tables lie in between.
const WINDOW: usize = 28_000;
/// Likeness is how many pieces of so many bytes two have in common.
const PIECE: usize = 6;
/// What stands in more than so many tells nothing about likeness.
const EVERYWHERE: usize = 120;

/// An order of `parts` in which each is followed by the one that has most in
/// common with those shortly before.
pub fn by_likeness(parts: &[&[u8]]) -> Vec<usize> {
    let pieces = Pieces::of(parts);
    let mut seen = Seen { times: vec![0; pieces.holders.len()], likeness: vec![0; parts.len()] };
    let (mut near, mut length) = (VecDeque::new(), 0);
    let mut left: Vec<usize> = (0..parts.len()).collect();
    let mut order = Vec::new();
    loop {
        // Likeness by length would leave the long ones for the end.
        let per_length = |part: usize| seen.likeness[part] as f64 / (1.0 + parts[part].len() as f64).sqrt();
        let better = |one: &usize, other: &usize| per_length(left[*one]).total_cmp(&per_length(left[*other]));
        let Some(at) = (0..left.len()).max_by(better) else { break };
        let best = left.remove(at);
        order.push(best);
        near.push_back(best);
        length += parts[best].len();
        seen.come(&pieces, best);
        while length > WINDOW {
            let Some(gone) = near.pop_front() else { break };
            length -= parts[gone].len();
            seen.go(&pieces, gone);
        }
    }
    order
}

/// The pieces that some parts, but not most, have in common.
struct Pieces {
    /// By part.
    of_part: Vec<Vec<usize>>,
    /// By piece.
    holders: Vec<Vec<usize>>,
}

impl Pieces {
    fn of(parts: &[&[u8]]) -> Self {
        let mut numbers = HashMap::new();
        let mut holders: Vec<Vec<usize>> = Vec::new();
        for (part, bytes) in parts.iter().enumerate() {
            for piece in bytes.windows(PIECE) {
                let number = *numbers.entry(piece).or_insert(holders.len());
                if number == holders.len() {
                    holders.push(Vec::new());
                }
                if holders[number].last() != Some(&part) {
                    holders[number].push(part);
                }
            }
        }
        holders.retain(|holders| (2..EVERYWHERE).contains(&holders.len()));
        let mut of_part = vec![Vec::new(); parts.len()];
        for (piece, holders) in holders.iter().enumerate() {
            holders.iter().for_each(|&part| of_part[part].push(piece));
        }
        Pieces { of_part, holders }
    }
}

/// What lies within the window.
struct Seen {
    /// How often each piece does.
    times: Vec<usize>,
    /// How many of its pieces do, for each part.
    likeness: Vec<usize>,
}

impl Seen {
    fn come(&mut self, pieces: &Pieces, part: usize) {
        for &piece in &pieces.of_part[part] {
            self.times[piece] += 1;
            if self.times[piece] == 1 {
                pieces.holders[piece].iter().for_each(|&part| self.likeness[part] += 1);
            }
        }
    }

    fn go(&mut self, pieces: &Pieces, part: usize) {
        for &piece in &pieces.of_part[part] {
            self.times[piece] -= 1;
            if self.times[piece] == 0 {
                pieces.holders[piece].iter().for_each(|&part| self.likeness[part] -= 1);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_looks_alike_stands_together_and_nothing_is_lost() {
        let parts: [&[u8]; 6] = [b"long spindle nose", b"1234567890", b"a spindle nose", b"x", b"234567890!", b""];
        let order = by_likeness(&parts);
        let place = |part| order.iter().position(|it| *it == part).expect("it is there");
        assert_eq!(place(0).abs_diff(place(2)), 1, "{order:?}");
        assert_eq!(place(1).abs_diff(place(4)), 1, "{order:?}");
        let mut all = order;
        all.sort_unstable();
        assert_eq!(all, [0, 1, 2, 3, 4, 5]);
    }
}
