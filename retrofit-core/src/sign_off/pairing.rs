//! Which of what was built is which of what was designed.
//!
//! Both lie along one wall line, and neither overlaps its like. Their distance is how far the two ends are
//! off, together. What lies exactly where it should is paired at once: by the triangle inequality no pairing
//! of less total distance is lost by that. Of what remains, as many as possible are paired, at the least
//! total distance; uncrossing two pairs never makes the total greater, so that a pairing in the order of the
//! stations is enough, and a dynamic program finds the best of these.

use crate::measure::Length;

/// More pairs than this are not weighed; what is left then is not told apart.
const MOST_PAIRS: usize = 4_000_000;

/// For each designed piece the one that was built of it, by position; `None` as a whole where there are too
/// many to be told apart. Where two designed pieces lie at one place, the earlier in the list comes first.
pub(super) fn pair(designed: &[(Length, Length)], built: &[(Length, Length)]) -> Option<Vec<Option<usize>>> {
    let mut pairs: Vec<Option<usize>> = vec![None; designed.len()];
    let mut left: Vec<usize> = (0..built.len()).collect();
    let station = |list: &[(Length, Length)], index: usize| list.get(index).copied();
    left.sort_by_key(|index| station(built, *index));
    for (slot, place) in pairs.iter_mut().zip(designed) {
        let at = left.partition_point(|index| station(built, *index) < Some(*place));
        if left.get(at).and_then(|index| station(built, *index)) == Some(*place) {
            *slot = Some(left.remove(at));
        }
    }
    let mut open: Vec<usize> = (0..designed.len())
        .filter(|index| pairs.get(*index).is_some_and(Option::is_none))
        .collect();
    open.sort_by_key(|index| station(designed, *index));
    if open.len().saturating_mul(left.len()) > MOST_PAIRS {
        return None;
    }
    let places = |list: &[(Length, Length)], order: &[usize]| -> Vec<(Length, Length)> {
        order.iter().filter_map(|index| station(list, *index)).collect()
    };
    for (one, other) in in_order(&places(designed, &open), &places(built, &left)) {
        if let (Some(one), Some(other)) = (open.get(one), left.get(other))
            && let Some(slot) = pairs.get_mut(*one)
        {
            *slot = Some(*other);
        }
    }
    Some(pairs)
}

/// How far two places are apart.
fn distance(one: (Length, Length), other: (Length, Length)) -> i128 {
    let ends = [one.0.abs_diff(other.0), one.1.abs_diff(other.1)];
    ends.into_iter().map(|end| i128::from(end.nanometers())).sum()
}

/// The best pairing that keeps the order: as many pairs as the shorter list has, at the least total distance.
fn in_order(one: &[(Length, Length)], other: &[(Length, Length)]) -> Vec<(usize, usize)> {
    if one.len() > other.len() {
        let swapped = in_order(other, one).into_iter();
        return swapped.map(|(a, b)| (b, a)).collect();
    }
    // Row by row over the shorter list: the least total for its first so many within the first so many of the
    // other.
    let columns = other.len() + 1;
    let mut total: Vec<Option<i128>> = vec![Some(0); columns];
    let mut is_paired: Vec<Vec<bool>> = Vec::with_capacity(one.len());
    for place in one {
        let mut next: Vec<Option<i128>> = Vec::with_capacity(columns);
        let mut paired: Vec<bool> = Vec::with_capacity(columns);
        next.push(None);
        paired.push(false);
        let mut best = None;
        for (candidate, before) in other.iter().zip(&total) {
            let with = before.map(|before| before + distance(*place, *candidate));
            let is_better = match (with, best) {
                (Some(with), Some(best)) => with < best,
                (with, None) => with.is_some(),
                (None, _) => false,
            };
            if is_better {
                best = with;
            }
            next.push(best);
            paired.push(is_better);
        }
        total = next;
        is_paired.push(paired);
    }
    let mut pairs = Vec::with_capacity(one.len());
    let mut column = other.len();
    for (row, paired) in is_paired.iter().enumerate().rev() {
        while column > 0 && !paired.get(column).copied().unwrap_or(false) {
            column -= 1;
        }
        let Some(before) = column.checked_sub(1) else {
            break;
        };
        pairs.push((row, before));
        column = before;
    }
    pairs.reverse();
    pairs
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    fn points(inches: &[i64]) -> Vec<(Length, Length)> {
        inches
            .iter()
            .map(|at| (Length::inches(*at), Length::inches(*at)))
            .collect()
    }

    #[rstest]
    #[case::all_there(&[10, 80, 150], &[150, 10, 80], &[Some(1), Some(2), Some(0)])]
    #[case::one_moved(&[10, 80, 150], &[10, 88, 150], &[Some(0), Some(1), Some(2)])]
    #[case::one_missing(&[10, 80, 150], &[12, 151], &[Some(0), None, Some(1)])]
    #[case::one_more(&[10, 80], &[9, 30, 82], &[Some(0), Some(2)])]
    // A walk from the left would give 10 to the first and 30 to the second.
    #[case::nearest_is_not_best(&[14, 16], &[10, 15, 40], &[Some(0), Some(1)])]
    #[case::nothing(&[10], &[], &[None])]
    fn pairs(#[case] designed: &[i64], #[case] built: &[i64], #[case] expected: &[Option<usize>]) {
        assert_eq!(pair(&points(designed), &points(built)).unwrap(), expected);
    }

    #[test]
    fn too_many_are_not_told_apart() {
        let many: Vec<i64> = (0..2_001).map(|at| 2 * at).collect();
        let others: Vec<i64> = many.iter().map(|at| at + 1).collect();
        assert_eq!(pair(&points(&many), &points(&others)), None);
        assert!(pair(&points(&many), &points(&many)).is_some());
    }

    /// Every way of pairing as many as possible, tried one after another.
    fn least(designed: &[(Length, Length)], built: &[(Length, Length)]) -> i128 {
        let (shorter, longer) = if designed.len() <= built.len() {
            (designed, built)
        } else {
            (built, designed)
        };
        let Some((first, rest)) = shorter.split_first() else {
            return 0;
        };
        let each = (0..longer.len()).map(|index| {
            let mut others = longer.to_vec();
            let taken = others.remove(index);
            distance(*first, taken) + least(rest, &others)
        });
        each.min().unwrap()
    }

    /// Stretches that follow one another along a line.
    fn stretches() -> impl Strategy<Value = Vec<(Length, Length)>> {
        vec((0i64..6, 1i64..6), 0..5).prop_map(|steps| {
            let mut at = 0;
            let stretch = |(gap, length): (i64, i64)| {
                let from = at + gap;
                at = from + length;
                (Length::inches(from), Length::inches(at))
            };
            steps.into_iter().map(stretch).collect()
        })
    }

    proptest! {
        #[test]
        fn no_pairing_has_less_distance(designed in stretches(), built in stretches()) {
            let pairs = pair(&designed, &built).unwrap();
            let paired: Vec<(usize, usize)> = pairs.iter().enumerate().filter_map(|(a, b)| Some((a, (*b)?))).collect();
            prop_assert_eq!(paired.len(), designed.len().min(built.len()));
            let mut used: Vec<usize> = paired.iter().map(|pair| pair.1).collect();
            used.sort_unstable();
            used.dedup();
            prop_assert_eq!(used.len(), paired.len());
            let total: i128 = paired.iter().map(|(a, b)| distance(designed[*a], built[*b])).sum();
            prop_assert_eq!(total, least(&designed, &built));
        }
    }
}
