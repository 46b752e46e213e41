//! Lists, plurals and counts as people write them.

/// The word for so many: `one` for 1, `many` for any other number.
pub fn plural<'w>(count: usize, one: &'w str, many: &'w str) -> &'w str {
    if count == 1 { one } else { many }
}

/// "1 attribute", "2 attributes".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", plural(count, one, many))
}

/// "1 sample", "2 samples": a word whose plural ends in s.
pub fn counted_regular(count: usize, of_one: &str) -> String {
    counted(count, of_one, &format!("{of_one}s"))
}

/// "once", "twice", "3 times".
pub fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        _ => format!("{count} times"),
    }
}

/// "a", "a and b", "a, b and c".
pub fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The same; a list of more than `at_most` ends with how many more there are: "a, b and 4 more".
pub fn listed_at_most(items: &[String], at_most: usize) -> String {
    let (told, rest) = items.split_at(items.len().min(at_most));
    match (told, rest.len()) {
        (told, 0) => listed(told),
        ([], _) => String::new(),
        (told, more) => format!("{} and {more} more", told.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_is_not_many() {
        assert_eq!([0, 1, 2].map(|count| counted(count, "cup", "cups")), ["0 cups", "1 cup", "2 cups"]);
        assert_eq!([0, 1, 2].map(|count| counted_regular(count, "cup")), ["0 cups", "1 cup", "2 cups"]);
        assert_eq!([0, 1, 2, 3].map(times), ["0 times", "once", "twice", "3 times"]);
    }

    #[test]
    fn lists_end_in_and() {
        let items = ["a", "b", "c"].map(str::to_owned);
        assert_eq!([0, 1, 2, 3].map(|count| listed(&items[..count])), ["", "a", "a and b", "a, b and c"]);
        let shown = [0, 1, 2, 3].map(|at_most| listed_at_most(&items, at_most));
        assert_eq!(shown, ["", "a and 2 more", "a, b and 1 more", "a, b and c"]);
    }
}
