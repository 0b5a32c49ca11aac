//! Putting things in order.
//!
//! The standard library's sorts are compiled anew for every kind of item and
//! comparison, at some seven kB each. Here they are compiled once: what is
//! sorted are places in a list, and the items follow them.

use std::cmp::Ordering;

/// Least first.
pub fn ascending(values: &mut [f64]) {
    values.sort_unstable_by(f64::total_cmp);
}

/// The value that has `rank` values before it in order, least first.
///
/// # Panics
/// If there are not so many.
pub fn at_rank(values: &mut [f64], rank: usize) -> f64 {
    *values.select_nth_unstable_by(rank, f64::total_cmp).1
}

/// Where the values stand in order, least first; equals as they stood.
pub fn places(values: &[f64]) -> Vec<usize> {
    sorted(values.len(), &|a, b| values[a].total_cmp(&values[b]))
}

/// In order of a number, least first; equals stay as they stand.
pub fn least_first<T>(items: &mut [T], number: impl Fn(&T) -> f64) {
    let numbers: Vec<f64> = items.iter().map(number).collect();
    follow(items, places(&numbers));
}

/// In order of a number, greatest first; equals stay as they stand.
pub fn greatest_first<T>(items: &mut [T], number: impl Fn(&T) -> f64) {
    least_first(items, |item| -number(item));
}

/// As `compare` says; equals stay as they stand.
pub fn sort<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let order = sorted(items.len(), &|a, b| compare(&items[a], &items[b]));
    follow(items, order);
}

fn sorted(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|&a, &b| compare(a, b));
    order
}

/// Puts in each place the item that stood where `order` says.
fn follow<T>(items: &mut [T], mut order: Vec<usize>) {
    for first in 0..order.len() {
        let mut place = first;
        loop {
            let from = std::mem::replace(&mut order[place], place);
            if from == first {
                break;
            }
            items.swap(place, from);
            place = from;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_order_is_that_of_a_stable_sort(numbers in prop::collection::vec(-5_i32..5, 0..40)) {
            let items: Vec<(usize, f64)> = numbers.iter().map(|&number| f64::from(number)).enumerate().collect();
            let mut expected = items.clone();
            expected.sort_by(|a, b| a.1.total_cmp(&b.1));
            let mut up = items.clone();
            least_first(&mut up, |item| item.1);
            prop_assert_eq!(&up, &expected);

            expected = items.clone();
            expected.sort_by(|a, b| b.1.total_cmp(&a.1));
            let mut down = items.clone();
            greatest_first(&mut down, |item| item.1);
            prop_assert_eq!(&down, &expected);
            let mut compared = items;
            sort(&mut compared, |a, b| b.1.total_cmp(&a.1));
            prop_assert_eq!(&compared, &expected);
        }
    }
}
