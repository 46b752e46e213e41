//! Names that look the same and are written with other signs: letters of other alphabets, signs that can't be seen. It
//! knows not what the names are of.

/// Letters of the Cyrillic and of the Greek alphabet, and the Latin letters that they look like: a part of the confusable
/// characters of Unicode Technical Standard 39, chosen from memory.
const TWINS: [(&str, &str); 3] = [
    (
        "\u{410}\u{412}\u{415}\u{41a}\u{41c}\u{41d}\u{41e}\u{420}\u{421}\u{422}\u{423}\u{425}\u{406}\u{408}\u{405}",
        "ABEKMHOPCTYXIJS",
    ),
    ("\u{430}\u{435}\u{43e}\u{440}\u{441}\u{443}\u{445}\u{456}\u{458}\u{455}\u{501}", "aeopcyxijsd"),
    (
        "\u{391}\u{392}\u{395}\u{396}\u{397}\u{399}\u{39a}\u{39c}\u{39d}\u{39f}\u{3a1}\u{3a4}\u{3a5}\u{3a7}\u{3bf}\u{3bd}",
        "ABEZHIKMNOPTYXov",
    ),
];

/// Letters that may stand as one sign, or as a letter and a mark that is set on it: the mark, then pairs of both forms.
const MARKED: [(char, &str); 7] = [
    ('\u{300}', "AÀEÈIÌOÒUÙaàeèiìoòuù"),
    ('\u{301}', "AÁEÉIÍOÓUÚYÝaáeéiíoóuúyý"),
    ('\u{302}', "AÂEÊIÎOÔUÛaâeêiîoôuû"),
    ('\u{303}', "AÃNÑOÕaãnñoõ"),
    ('\u{308}', "AÄEËIÏOÖUÜaäeëiïoöuü"),
    ('\u{30c}', "CČSŠZŽcčsšzž"),
    ('\u{327}', "CÇcçSŞsş"),
];

/// The name as it looks: two names with one look can't be told apart on paper.
pub(in crate::read) fn look(name: &str) -> String {
    let mut look = String::with_capacity(name.len());
    for letter in name.chars().filter(|letter| !is_unseen(*letter)).map(latin_twin) {
        match marked(look.chars().last(), letter) {
            Some(whole) => {
                look.pop();
                look.push(whole);
            }
            None => look.push(letter),
        }
    }
    look.to_lowercase()
}

/// The first sign of the name that can't be seen, such as a mark of writing direction.
pub(in crate::read) fn unseen_sign(name: &str) -> Option<char> {
    name.chars().find(|letter| is_unseen(*letter))
}

/// A sign that one of two names of one look has and the other has not, and that is no plain Latin.
pub(in crate::read) fn odd_sign(a: &str, b: &str) -> Option<char> {
    let odd = |name: &str, other: &str| name.chars().find(|letter| !letter.is_ascii() && !other.contains(*letter));
    odd(a, b).or_else(|| odd(b, a))
}

fn is_unseen(letter: char) -> bool {
    let is_direction = matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    is_direction || matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}'..='\u{2064}' | '\u{feff}')
}

fn latin_twin(letter: char) -> char {
    if letter.is_ascii() {
        return letter;
    }
    // The wide forms of East Asian writing stand at a fixed distance from ASCII.
    if let '\u{ff01}'..='\u{ff5e}' = letter {
        return char::from_u32(u32::from(letter) - 0xfee0).unwrap_or(letter);
    }
    let twin = |(others, latin): &(&str, &str)| {
        others.chars().zip(latin.chars()).find(|(other, _)| *other == letter).map(|(_, latin)| latin)
    };
    TWINS.iter().find_map(twin).unwrap_or(letter)
}

fn marked(before: Option<char>, mark: char) -> Option<char> {
    let pairs: Vec<char> = MARKED.iter().find(|(known, _)| *known == mark)?.1.chars().collect();
    pairs.chunks_exact(2).find(|pair| Some(pair[0]) == before).map(|pair| pair[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_looks_alike_has_one_look() {
        assert_eq!(look("\u{410}nna"), look("Anna"));
        assert_eq!(look("Anna\u{200f}"), look("anna"));
        assert_eq!(look("\u{ff21}nna"), look("Anna"));
        assert_eq!(look("Jose\u{301}"), look("José"));
        assert_ne!(look("José"), look("Jose"));
        assert_ne!(look("Ana"), look("Anna"));
        // A name in Cyrillic letters has a look of its own where one of them has no Latin twin.
        assert_ne!(look("\u{418}\u{432}\u{430}\u{43d}"), look("Ivan"));
    }

    #[test]
    fn the_odd_sign_is_named() {
        assert_eq!(odd_sign("Anna", "\u{410}nna"), Some('\u{410}'));
        assert_eq!(odd_sign("Jose\u{301}", "José"), Some('\u{301}'));
        assert_eq!((unseen_sign("a\u{202e}b"), unseen_sign("plain")), (Some('\u{202e}'), None));
    }

    #[test]
    fn each_letter_has_one_twin() {
        for (others, latin) in TWINS {
            assert_eq!(others.chars().count(), latin.chars().count());
        }
        assert!(MARKED.iter().all(|(_, pairs)| pairs.chars().count() % 2 == 0));
    }
}
