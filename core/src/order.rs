//! Putting short lists in order.
//!
//! The standard library's sorts are made for long lists and compiled anew, at some four
//! kilobytes of the page, for every type and order. Lists here hold tens of items, seldom
//! hundreds, and mostly come nearly in order.

use std::cmp::Ordering;

/// Puts items in order by comparing them; equal ones keep their places. Insertion sort: the
/// time grows with the number of pairs that stand the wrong way round.
///
/// ```
/// use sisterframe_core::order::sort_by;
///
/// let mut bars = [(2, "b"), (1, "a"), (2, "a")];
/// sort_by(&mut bars, |one, other| one.0.cmp(&other.0));
/// assert_eq!(bars, [(1, "a"), (2, "b"), (2, "a")]);
/// ```
pub fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    for next in 1..items.len() {
        let mut at = next;
        while at > 0 && compare(&items[at - 1], &items[at]) == Ordering::Greater {
            items.swap(at - 1, at);
            at -= 1;
        }
    }
}

/// Puts items in the order of a key; those of the same key keep their places.
pub fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |one, other| key(one).cmp(&key(other)));
}
