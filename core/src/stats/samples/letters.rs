//! Letters for samples: two samples share a letter if and only if they are not shown to differ.
//!
//! A letter stands for a group in which no two samples differ. Groups are grown from the highest mean downwards until
//! every pair that is not significant lies in one, which for equal standard errors gives the usual few letters. Letters
//! are not unique; only the rule above is promised.

/// Letters for each sample, in the order given. `means` sets the order of letters, `differ` says which pairs differ.
pub fn letters(means: &[f64], differ: impl Fn(usize, usize) -> bool) -> Vec<String> {
    let mut order = (0..means.len()).collect::<Vec<_>>();
    order.sort_by(|a, b| means[*b].total_cmp(&means[*a]));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (place, first) in order.iter().enumerate() {
        for last in order[place + 1..].iter().rev() {
            let joined = groups.iter().any(|group| group.contains(first) && group.contains(last));
            if !joined && !differ(*first, *last) {
                groups.push(grown(*first, *last, &order, &differ));
            }
        }
        if !groups.iter().any(|group| group.contains(first)) {
            groups.push(vec![*first]);
        }
    }
    (0..means.len())
        .map(|sample| {
            let in_group = groups.iter().enumerate().filter(|(_, group)| group.contains(&sample));
            in_group.map(|(number, _)| letter(number)).collect()
        })
        .collect()
}

fn grown(first: usize, last: usize, order: &[usize], differ: &impl Fn(usize, usize) -> bool) -> Vec<usize> {
    let mut group = vec![first, last];
    for sample in order {
        if !group.contains(sample) && group.iter().all(|member| !differ(*member, *sample)) {
            group.push(*sample);
        }
    }
    group
}

/// a to z, then A to Z, then numbers in brackets.
fn letter(number: usize) -> String {
    let alphabet = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    alphabet.chars().nth(number).map_or_else(|| format!("({})", number + 1), |letter| letter.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_of_three_needs_two_letters() {
        // 9 and 5 do not differ, nor 5 and 1; 9 and 1 do.
        let found = letters(&[1.0, 9.0, 5.0], |a, b| (a, b) == (0, 1) || (a, b) == (1, 0));
        assert_eq!(found, ["b", "a", "ab"]);
    }

    #[test]
    fn all_different_and_all_alike() {
        assert_eq!(letters(&[3.0, 1.0, 2.0], |_, _| true), ["a", "c", "b"]);
        assert_eq!(letters(&[3.0, 1.0, 2.0], |_, _| false), ["a", "a", "a"]);
        assert!(letters(&[], |_, _| true).is_empty());
    }

    #[test]
    fn the_rule_holds_for_any_pattern_of_differences() {
        for pattern in 0_u32..1 << 10 {
            let bit = |a: usize, b: usize| {
                let (low, high) = (a.min(b), a.max(b));
                pattern >> (high * (high - 1) / 2 + low) & 1 == 1
            };
            let found = letters(&[4.0, 2.0, 5.0, 1.0, 3.0], bit);
            for a in 0..5 {
                for b in 0..a {
                    let share = found[a].chars().any(|letter| found[b].contains(letter));
                    assert_eq!(share, !bit(a, b), "{pattern:b}: {found:?}");
                }
            }
        }
    }
}
