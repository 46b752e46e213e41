//! Words by which columns and rows make themselves known: English, German, French and Spanish headers, totals.
//! The lists are common practice in panel work and plain vocabulary; ISO 5492 gives "assessor" and "attribute".

use crate::read::options::ColumnRole;
use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

/// How firmly a header names a role. Weak words count only where no strong one is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::read) enum Firmness {
    Weak,
    Strong,
}

/// A cell that heads a row of totals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum TotalsWord {
    /// "Mean", "Total": hardly a name.
    Strong,
    /// "Max", "SD": a person's name or initials as well.
    Weak,
}

const STRONG: [(ColumnRole, &str); 8] = [
    (
        ColumnRole::Assessor,
        "assessor panelist panellist judge taster tester evaluator expert subject participant respondent panelmember \
         member person consumer assr prüfer prüferin prüfperson pruefer juror jury juge dégustateur degustateur \
         panéliste paneliste sujet evaluateur évaluateur evaluador juez panelista catador degustador assesseur",
    ),
    (
        ColumnRole::Sample,
        "sample product candidate food stimulus specimen prod smp probe produkt muster échantillon echantillon produit \
         muestra producto",
    ),
    (
        ColumnRole::Replicate,
        "replicate rep replication repetition repeat repl reps wiederholung wdh replikat répétition repetición \
         repeticion réplica replica",
    ),
    (ColumnRole::Session, "session sess sitting sitzung séance seance sesión sesion"),
    (
        ColumnRole::Position,
        "position pos order rank servingposition servingorder tastingorder presentationorder presentation sequence \
         reihenfolge ordre posición posicion orden",
    ),
    (ColumnRole::Label, "label shownname shownas etikett étiquette etiqueta"),
    (
        ColumnRole::Attribute,
        "attribute attr descriptor descriptors character characteristic characteristics property merkmal attribut \
         eigenschaft deskriptor descripteur caractère atributo descriptor carácter variable",
    ),
    (
        ColumnRole::Score,
        "score value rating mark intensity scores marks response result wert bewertung punkte intensität note valeur \
         intensité puntuación puntuacion valor nota intensidad",
    ),
];

const WEAK: [(ColumnRole, &str); 3] = [
    (ColumnRole::Assessor, "name id initials initialen nom nombre"),
    (ColumnRole::Sample, "variant formula recipe lot batch treatment item variante rezeptur charge recette receta"),
    (ColumnRole::Session, "day date tag datum jour fecha día dia"),
];

const CODES: &str = "code codes samplecode productcode probencode probennummer probennr codenummer codigo código";

/// Words that stand beside a role word and change nothing: "assessor id", "sample no.".
const COMPANIONS: &str = "id no nr number num name n code nummer numero número nom nombre the";

const IGNORED: &str = "row index nr no number line id zeile ligne fila comment comments remark remarks bemerkung kommentar \
     remarque commentaire comentario time timestamp start end duration zeit heure hora email";

/// What is known of a person, as a panel of consumers is asked it; no attribute of a sample unless the user says so.
const OF_PERSON: &str = "age agegroup ageclass agerange ageyears gender sex income householdincome salary education \
     educationlevel occupation job household householdsize children birthyear yearofbirth yob birthdate smoker \
     smoking postcode postalcode zip zipcode country nationality ethnicity maritalstatus alter geschlecht einkommen \
     bildung beruf haushalt kinder geburtsjahr raucher plz sexe âge revenu profession enfants codepostal edad sexo \
     género genero ingresos ingreso educación educacion ocupación ocupacion hijos";

const TOTALS_STRONG: [&str; 26] = [
    "mean",
    "means",
    "average",
    "avg",
    "total",
    "totals",
    "grand total",
    "grand mean",
    "sum",
    "subtotal",
    "std dev",
    "stdev",
    "standard deviation",
    "std",
    "std error",
    "standard error",
    "variance",
    "mittelwert",
    "summe",
    "gesamt",
    "standardabweichung",
    "moyenne",
    "somme",
    "ecart type",
    "promedio",
    "desviación estándar",
];

const TOTALS_WEAK: [&str; 16] = [
    "sd", "se", "sem", "cv", "n", "min", "max", "minimum", "maximum", "median", "count", "rsd", "var", "mw", "media",
    "suma",
];

/// The lists by word, made once: a wide table has hundreds of headers, and each is looked at several times.
struct Lists {
    /// The first list that a word stands in, by its place.
    strong: HashMap<&'static str, usize>,
    weak: HashMap<&'static str, usize>,
    codes: HashSet<&'static str>,
    companions: HashSet<&'static str>,
    ignored: HashSet<&'static str>,
    of_person: HashSet<&'static str>,
}

impl Lists {
    fn get() -> &'static Lists {
        static LISTS: OnceLock<Lists> = OnceLock::new();
        let set = |list: &'static str| list.split_whitespace().collect();
        LISTS.get_or_init(|| Lists {
            strong: first_places(&STRONG),
            weak: first_places(&WEAK),
            codes: set(CODES),
            companions: set(COMPANIONS),
            ignored: set(IGNORED),
            of_person: set(OF_PERSON),
        })
    }
}

fn first_places(lists: &[(ColumnRole, &'static str)]) -> HashMap<&'static str, usize> {
    let mut places = HashMap::new();
    for (place, (_, list)) in lists.iter().enumerate() {
        for word in list.split_whitespace() {
            places.entry(word).or_insert(place);
        }
    }
    places
}

/// The role that a header names, if any.
pub(in crate::read) fn role_of_header(header: &str) -> Option<(ColumnRole, Firmness)> {
    let words = words_of(header);
    let (lists, joined) = (Lists::get(), words.concat());
    if lists.codes.contains(joined.as_str()) {
        return Some((ColumnRole::Code, Firmness::Strong));
    }
    let bare: String =
        words.iter().filter(|word| !lists.companions.contains(word.as_str())).map(String::as_str).collect();
    let strong = place_of(&lists.strong, &joined).or_else(|| place_of(&lists.strong, &bare));
    let weak = || place_of(&lists.weak, &joined).map(|place| (WEAK[place].0, Firmness::Weak));
    strong.map(|place| (STRONG[place].0, Firmness::Strong)).or_else(weak)
}

/// The first list that a word stands in, as it is or without an s at its end.
fn place_of(places: &HashMap<&str, usize>, word: &str) -> Option<usize> {
    let singular = word.strip_suffix('s').and_then(|singular| places.get(singular));
    places.get(word).into_iter().chain(singular).min().copied()
}

/// Whether a header names something that is no score: row numbers, comments, times.
pub(in crate::read) fn is_ignored_header(header: &str) -> bool {
    Lists::get().ignored.contains(words_of(header).concat().as_str())
}

/// Whether a header names what is known of a person, such as age or income.
pub(in crate::read) fn names_a_person(header: &str) -> bool {
    Lists::get().of_person.contains(words_of(header).concat().as_str())
}

/// Whether a cell heads a row (or a column) of totals.
pub(in crate::read) fn totals_word(cell: &str) -> Option<TotalsWord> {
    let text = words_of(cell).join(" ");
    let strong = TOTALS_STRONG.contains(&text.as_str());
    let ends_so = ["total", "average", "mean"].iter().any(|word| text.ends_with(&format!(" {word}")));
    match () {
        () if strong => Some(TotalsWord::Strong),
        () if ends_so || TOTALS_WEAK.contains(&text.as_str()) => Some(TotalsWord::Weak),
        () => None,
    }
}

/// Lower-case words of letters and digits.
fn words_of(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}
