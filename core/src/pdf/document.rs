//! Pages of a PDF and the one picture of each. It knows nothing of how objects are found or of pixels.

use super::content::drawn_names;
use super::faults::{MOST_PAGES, PdfFault};
use super::image::{PagePicture, picture_of};
use super::image_stream::ImageStream;
use super::objects::Value;
use super::store::{Object, ObjectStore};
use crate::scan::SHORTEST_SIDE_PX;
use std::collections::HashSet;

/// The content of a page may inflate to so many bytes.
const MOST_OF_CONTENT: usize = 4_000_000;
/// Pages lie in lists in lists, forms in forms, so deep at most.
const DEEPEST: usize = 32;
const DEEPEST_FORM: usize = 4;
/// Lists in a picture's dictionary lie so deep: colour space, its base, that one's profile.
const DEEPEST_OF_PICTURE: usize = 3;

/// An opened PDF; its pages are made into pictures one at a time.
pub struct ScannedPdf<'a> {
    store: ObjectStore<'a>,
    pages: Vec<Page>,
}

struct Page {
    contents: Option<Value>,
    resources: Option<Value>,
}

impl<'a> ScannedPdf<'a> {
    /// Finds the pages. Memory is that of the objects but their streams: no picture is opened.
    ///
    /// # Errors
    /// Locked, without pages, or larger than any scanner makes.
    pub fn open(bytes: &'a [u8]) -> Result<Self, PdfFault> {
        let mut pdf = ScannedPdf { store: ObjectStore::of(bytes)?, pages: Vec::new() };
        pdf.pages = pdf.found_pages()?;
        if pdf.pages.is_empty() { Err(PdfFault::NoPages) } else { Ok(pdf) }
    }

    /// How many pages there are.
    pub fn len(&self) -> usize {
        self.pages.len()
    }

    /// Never: a file without pages isn't opened.
    pub fn is_empty(&self) -> bool {
        self.pages.is_empty()
    }

    /// The picture of a page, by index.
    ///
    /// # Errors
    /// Why it has none, and what to do.
    pub fn picture(&self, page: usize) -> Result<PagePicture, PdfFault> {
        let page = self.pages.get(page).ok_or(PdfFault::NoPages)?;
        let mut found = Vec::new();
        self.collect_images(
            page.resources.as_ref(),
            &self.content_of(page),
            DEEPEST_FORM,
            &mut HashSet::new(),
            &mut found,
        );
        match found.as_slice() {
            [] => Err(PdfFault::NoPicture),
            [image] => picture_of(image),
            _ => Err(PdfFault::SeveralPictures),
        }
    }
    /// The pages in their order; where no list of them is sound, every object that says it is one, by number.
    fn found_pages(&self) -> Result<Vec<Page>, PdfFault> {
        let mut pages = Vec::new();
        let catalogs = self
            .store
            .objects
            .values()
            .filter(|object| object.value.get("Type").is_some_and(|kind| kind.is_name("Catalog")));
        let by_trailer = self.store.roots.iter().rev().filter_map(|root| self.store.resolved(root));
        let tree = by_trailer.chain(catalogs.map(|object| &object.value)).find_map(|root| root.get("Pages"));
        if let Some(tree) = tree {
            self.walk(tree, None, DEEPEST, &mut HashSet::new(), &mut pages)?;
        }
        if pages.is_empty() {
            let is_page = |object: &&Object| object.value.get("Type").is_some_and(|kind| kind.is_name("Page"));
            let mut numbers: Vec<&u32> = self.store.objects.keys().collect();
            numbers.sort_unstable();
            let objects = numbers.into_iter().filter_map(|number| self.store.objects.get(number)).filter(is_page);
            pages = objects.take(MOST_PAGES + 1).map(|object| self.page(&object.value, None)).collect();
        }
        if pages.len() > MOST_PAGES { Err(PdfFault::TooMuch) } else { Ok(pages) }
    }

    fn page(&self, dictionary: &Value, inherited: Option<&Value>) -> Page {
        let resources = dictionary.get("Resources").or(inherited).cloned();
        Page { contents: dictionary.get("Contents").cloned(), resources }
    }

    fn walk(
        &self,
        node: &Value,
        inherited: Option<&Value>,
        depth: usize,
        seen: &mut HashSet<u32>,
        pages: &mut Vec<Page>,
    ) -> Result<(), PdfFault> {
        let is_new = match node {
            Value::Reference(to) => seen.insert(*to),
            _ => true,
        };
        let Some(value) = self.store.resolved(node).filter(|_| is_new && depth > 0) else { return Ok(()) };
        let inherited = value.get("Resources").or(inherited);
        match self.store.entry(value, "Kids") {
            Some(Value::List(kids)) => {
                kids.iter().try_for_each(|kid| self.walk(kid, inherited, depth - 1, seen, pages))
            }
            _ if pages.len() >= MOST_PAGES => Err(PdfFault::TooMuch),
            _ => {
                pages.push(self.page(value, inherited));
                Ok(())
            }
        }
    }

    /// The content of a page, as far as it can be opened.
    fn content_of(&self, page: &Page) -> Vec<u8> {
        let contents = page.contents.as_ref();
        let parts: Vec<&Value> = match contents.and_then(|value| self.store.resolved(value)) {
            Some(Value::List(parts)) => parts.iter().collect(),
            _ => contents.into_iter().collect(),
        };
        let mut content = Vec::new();
        for part in parts {
            let Some(opened) = self.store.opened(part, MOST_OF_CONTENT - content.len()) else { return Vec::new() };
            content.extend(opened);
            content.push(b'\n');
            content.truncate(MOST_OF_CONTENT);
        }
        content
    }
    /// The pictures of the size of a page that some content draws, through forms as well, until there are too many. Where
    /// the content can't be read every picture counts that the page could draw.
    fn collect_images(
        &self,
        resources: Option<&Value>,
        content: &[u8],
        depth: usize,
        seen: &mut HashSet<u32>,
        found: &mut Vec<ImageStream<'a>>,
    ) {
        let drawn = drawn_names(content);
        let objects = resources
            .and_then(|resources| self.store.resolved(resources))
            .and_then(|value| self.store.entry(value, "XObject"));
        let Some(Value::Dictionary(entries)) = objects else { return };
        for (_, value) in entries.iter().filter(|(name, _)| drawn.is_empty() || drawn.contains(name)) {
            let (Value::Reference(number), Some((dictionary, raw))) = (value, self.store.stream_of(value)) else {
                continue;
            };
            if depth == 0 || found.len() > 1 || !seen.insert(*number) {
                continue;
            }
            if !self.store.entry(dictionary, "Subtype").is_some_and(|kind| kind.is_name("Image")) {
                let own = dictionary.get("Resources").or(resources);
                let content = self.store.opened(value, MOST_OF_CONTENT).unwrap_or_default();
                self.collect_images(own, &content, depth - 1, seen, found);
            } else if self.is_page(dictionary) {
                found.push(ImageStream::of(self.store.deep(value, DEEPEST_OF_PICTURE), raw, self.store.bytes));
            }
        }
    }

    /// Whether a picture has the size of a page.
    fn is_page(&self, dictionary: &Value) -> bool {
        let side = |key: &str| self.store.entry(dictionary, key).and_then(Value::count).unwrap_or(0) as u64;
        side("Width").min(side("Height")) >= SHORTEST_SIDE_PX
    }
}
