//! Numbers that mean something to people and so can't be codes. It knows nothing of how codes are drawn.
//!
//! The list is common knowledge written down from memory, not taken from a register: emergency lines differ from
//! country to country and change. A number missing here does no harm beyond one code that makes somebody smile.

/// A three-digit number with a meaning of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WellKnown {
    pub number: u16,
    pub because: &'static str,
}

/// Why a number is too well known to be a code; `None` for a plain one.
pub fn why_well_known(number: u16) -> Option<&'static str> {
    WELL_KNOWN.iter().find(|known| known.number == number).map(|known| known.because)
}

/// In the order of the numbers.
pub const WELL_KNOWN: &[WellKnown] = &[
    known(100, "a round number and an emergency line in several countries"),
    known(101, "an emergency or police line in several countries"),
    known(102, "an emergency line in several countries"),
    known(103, "an emergency line in several countries"),
    known(104, "an emergency line in several countries"),
    known(105, "an emergency line in several countries"),
    known(106, "an emergency line in Australia"),
    known(107, "an emergency line in several countries"),
    known(108, "an emergency line in India"),
    known(110, "an emergency line in China, Germany, Japan and other countries"),
    known(111, "an emergency line in New Zealand and a health line in Britain"),
    known(112, "the emergency line of Europe and India"),
    known(113, "an emergency line in Italy, Norway and other countries"),
    known(114, "an emergency line in several countries"),
    known(115, "an emergency line in Italy and other countries"),
    known(116, "the prefix of European help lines"),
    known(117, "an emergency line in Switzerland and other countries"),
    known(118, "an emergency line in Italy and Switzerland"),
    known(119, "an emergency line in Japan, Korea and other countries"),
    known(120, "an emergency line in China"),
    known(122, "an emergency line in several countries"),
    known(132, "an emergency line in Chile"),
    known(133, "an emergency line in Austria and Chile"),
    known(143, "a help line in Switzerland"),
    known(144, "an emergency line in Austria and Switzerland"),
    known(150, "an emergency line in Czechia and Slovakia"),
    known(155, "an emergency line in Czechia and Slovakia"),
    known(156, "an emergency line in Czechia"),
    known(158, "an emergency line in Czechia and Slovakia"),
    known(166, "an emergency line in Greece"),
    known(187, "slang for murder"),
    known(190, "an emergency line in Brazil"),
    known(191, "an emergency line in several countries"),
    known(192, "an emergency line in Brazil and other countries"),
    known(193, "an emergency line in Brazil and other countries"),
    known(194, "an emergency line in several countries"),
    known(199, "an emergency line in Greece"),
    known(247, "said for round the clock"),
    known(256, "a power of two that computers made known"),
    known(314, "the first digits of pi"),
    known(360, "the degrees of a circle"),
    known(365, "the days of a year"),
    known(403, "the error number of a forbidden web page"),
    known(404, "the error number of a missing web page"),
    known(420, "slang for cannabis"),
    known(451, "the title of a novel"),
    known(500, "the error number of a failing web server"),
    known(501, "the name of a pair of jeans"),
    known(512, "a power of two that computers made known"),
    known(555, "the telephone number of films"),
    known(666, "the number of the beast"),
    known(707, "the name of an aeroplane"),
    known(711, "the name of a chain of shops"),
    known(737, "the name of an aeroplane"),
    known(747, "the name of an aeroplane"),
    known(757, "the name of an aeroplane"),
    known(767, "the name of an aeroplane"),
    known(777, "a lucky number and the name of an aeroplane"),
    known(786, "a number with a religious meaning"),
    known(787, "the name of an aeroplane"),
    known(888, "a lucky number"),
    known(911, "the emergency line of North America, a date and the name of a car"),
    known(988, "a help line in North America"),
    known(993, "an emergency line in several countries"),
    known(995, "an emergency line in Singapore"),
    known(997, "an emergency line in Poland and other countries"),
    known(998, "an emergency line in Poland and other countries"),
    known(999, "an emergency line in Britain and other countries"),
];

const fn known(number: u16, because: &'static str) -> WellKnown {
    WellKnown { number, because }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_is_sorted_and_names_each_number_once() {
        assert!(WELL_KNOWN.windows(2).all(|pair| pair[0].number < pair[1].number));
        assert!(WELL_KNOWN.iter().all(|known| (100..=999).contains(&known.number) && !known.because.is_empty()));
        assert_eq!(why_well_known(278), None);
        assert_eq!(why_well_known(404), Some("the error number of a missing web page"));
    }
}
