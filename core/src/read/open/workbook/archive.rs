//! The files inside a zip archive, within limits and with their checksums. It knows nothing of what they hold.
//!
//! The crate `zip` takes the archive apart, unpacks and holds the checksums. Here are the limits: how many files an
//! archive may list and how long its list may be, both before it is read, and what files may unpack to, before any of
//! them is unpacked. Files that lie over each other gain nothing by it: every one that is asked for counts in full.

use std::io::{self, Cursor, Read};
use zip::ZipReadOptions;
use zip::read::{ArchiveOffset, Config, OwnedZipFileEntry};
use zip::result::ZipError;
use zip::unstable::read::ZipIterable;

/// Why an archive or a file in it can't be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum ZipFault {
    /// No directory, a wrong length or a wrong checksum.
    Damaged,
    /// Locked by a password.
    Locked,
    /// Lists or unpacks to more than the limit.
    TooLarge,
}

/// An archive of which only the directory has been read.
pub(super) struct Archive<'a> {
    bytes: &'a [u8],
    /// Each with the name that it is asked for.
    entries: Vec<(String, OwnedZipFileEntry)>,
    /// What may still be unpacked.
    bytes_left: u64,
}

const MOST_ENTRIES: usize = 20_000;

/// Room for 500 bytes a file. The crate keeps what stands beside the names, and that takes more in memory than in the
/// archive.
const MOST_DIRECTORY_BYTES: u64 = 10_000_000;

impl<'a> Archive<'a> {
    /// Reads the directory. `most_bytes` is what all files that are asked for may unpack to together.
    pub fn open(bytes: &'a [u8], most_bytes: u64) -> Result<Self, ZipFault> {
        let config = Config { archive_offset: ArchiveOffset::Known(0) };
        let mut directory = ZipIterable::try_new(Cursor::new(bytes), config)?;
        if directory.len() > MOST_ENTRIES {
            return Err(ZipFault::TooLarge);
        }
        let mut entries = Vec::new();
        let mut directory_at = None;
        for entry in directory.files()? {
            let entry = OwnedZipFileEntry::from(entry?);
            let at = entry.central_header_start();
            if at - *directory_at.get_or_insert(at) > MOST_DIRECTORY_BYTES {
                return Err(ZipFault::TooLarge);
            }
            entries.push((String::from_utf8_lossy(entry.name_raw()).replace('\\', "/"), entry));
        }
        Ok(Archive { bytes, entries, bytes_left: most_bytes })
    }

    pub fn has(&self, name: &str) -> bool {
        self.entry(name).is_some()
    }

    /// A file unpacked; `None` where the archive has none of this name.
    pub fn file(&mut self, name: &str) -> Result<Option<Vec<u8>>, ZipFault> {
        let Some(entry) = self.entry(name) else { return Ok(None) };
        if entry.encrypted() {
            return Err(ZipFault::Locked);
        }
        if entry.size() > self.bytes_left {
            return Err(ZipFault::TooLarge);
        }
        let unpacked = unpacked(entry, self.bytes)?;
        self.bytes_left -= unpacked.len() as u64;
        Ok(Some(unpacked))
    }

    /// The first of a name. Names are compared without capitals and leading strokes, as office programs do.
    fn entry(&self, name: &str) -> Option<&OwnedZipFileEntry> {
        let wanted = plain(name);
        self.entries.iter().find(|(name, _)| plain(name).eq_ignore_ascii_case(wanted)).map(|(_, entry)| entry)
    }
}

fn plain(name: &str) -> &str {
    name.trim_start_matches('/')
}

/// A file whole, or nothing of it. Not a byte more is unpacked than shows that the size in the directory is wrong.
fn unpacked(entry: &OwnedZipFileEntry, archive: &[u8]) -> Result<Vec<u8>, ZipFault> {
    let mut packed = Cursor::new(archive);
    let mut unpacked = Vec::new();
    let file = entry.as_ref().with_reader(&mut packed, ZipReadOptions::new())?;
    file.take(entry.size() + 1).read_to_end(&mut unpacked)?;
    let is_whole = unpacked.len() as u64 == entry.size();
    is_whole.then_some(unpacked).ok_or(ZipFault::Damaged)
}

impl From<ZipError> for ZipFault {
    fn from(_: ZipError) -> Self {
        ZipFault::Damaged
    }
}

impl From<io::Error> for ZipFault {
    fn from(_: io::Error) -> Self {
        ZipFault::Damaged
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    // Where facts of a file stand in its entry of the directory, and how long that is without the name
    // (PKWARE APPNOTE 6.3.10, 4.3.12).
    const FLAGS: usize = 8;
    const METHOD: usize = 10;
    const CHECKSUM: usize = 16;
    const SIZE: usize = 24;
    const HEADER_AT: usize = 42;
    const ENTRY: usize = 46;
    // Where the number of files stands, counted from the archive's end (4.3.16).
    const COUNTS_FROM_END: [usize; 2] = [14, 12];

    fn archive(names: &[&str]) -> Vec<u8> {
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        for name in names {
            writer.start_file(*name, SimpleFileOptions::default()).expect("a name");
            writer.write_all(text_of(name).as_bytes()).expect("room");
        }
        writer.finish().expect("an archive").into_inner()
    }

    /// A hundred times the name.
    fn text_of(name: &str) -> String {
        name.repeat(100)
    }

    /// The archive with a fact in the directory changed.
    fn changed(names: &[&str], name: &str, at: usize, fact: &[u8]) -> Vec<u8> {
        let mut bytes = archive(names);
        let listed = bytes.windows(name.len()).rposition(|window| window == name.as_bytes()).expect("listed");
        bytes[listed - ENTRY + at..][..fact.len()].copy_from_slice(fact);
        bytes
    }

    fn file(bytes: &[u8], name: &str) -> Result<Option<Vec<u8>>, ZipFault> {
        Archive::open(bytes, 1000)?.file(name)
    }

    #[test]
    fn files_are_found_as_office_programs_name_them() {
        let bytes = archive(&["xl/a.xml", "B.xml", "XL\\A.XML"]);
        for name in ["xl/a.xml", "/xl/a.xml", "XL/A.xml"] {
            assert_eq!(file(&bytes, name), Ok(Some(text_of("xl/a.xml").into_bytes())), "{name}");
        }
        assert_eq!(file(&bytes, "a.xml"), Ok(None));
        // Of two files with the very same name the first is taken.
        assert_eq!(file(&changed(&["a.x", "b.x"], "b.x", ENTRY, b"a.x"), "a.x"), Ok(Some(text_of("a.x").into_bytes())));
    }

    #[test]
    fn what_is_no_archive_is_damaged() {
        for bytes in [&b""[..], b"PK", &[0; 22], b"PK\x05\x06 and nothing that could be a directory"] {
            assert!(Archive::open(bytes, 1000).map(|archive| archive.entries.len()).unwrap_or(0) == 0);
        }
        // As many ends of a directory as there is room for.
        assert_eq!(file(&b"PK\x05\x06".repeat(20_000), "a"), Err(ZipFault::Damaged));
    }

    #[test]
    fn an_archive_cut_off_anywhere_is_damaged() {
        let bytes = archive(&["a.xml", "b.xml"]);
        for end in 0..bytes.len() {
            assert_eq!(file(&bytes[..end], "a.xml"), Err(ZipFault::Damaged), "{end}");
        }
    }

    #[test]
    fn a_wrong_directory_is_damage() {
        // The text is 500 bytes long.
        let sizes = [0_u32, 1, 499, 501, 1000].map(|size| (SIZE, size.to_le_bytes()));
        let places = [1, 20, 1_000_000].map(|at: u32| (HEADER_AT, at.to_le_bytes()));
        for (at, fact) in sizes.into_iter().chain(places).chain([(CHECKSUM, [0; 4])]) {
            assert_eq!(
                file(&changed(&["a.xml"], "a.xml", at, &fact), "a.xml"),
                Err(ZipFault::Damaged),
                "{at} {fact:?}"
            );
        }
        // Methods that are not built in: bzip2 and none at all.
        for method in [12, 77] {
            assert_eq!(file(&changed(&["a.xml"], "a.xml", METHOD, &[method]), "a.xml"), Err(ZipFault::Damaged));
        }
        let mut bytes = archive(&["a.xml"]);
        for from_end in COUNTS_FROM_END {
            let at = bytes.len() - from_end;
            bytes[at] = 3;
        }
        assert_eq!(file(&bytes, "a.xml"), Err(ZipFault::Damaged));
    }

    #[test]
    fn a_locked_file_is_named_so() {
        let bytes = changed(&["a.xml", "b.xml"], "b.xml", FLAGS, &[1]);
        assert_eq!(file(&bytes, "b.xml"), Err(ZipFault::Locked));
        assert_eq!(file(&bytes, "a.xml"), Ok(Some(text_of("a.xml").into_bytes())));
    }

    #[test]
    fn nothing_is_unpacked_beyond_the_limit() {
        // One byte more than the thousand that are allowed, and as much as can be claimed.
        for size in [1001, u32::MAX] {
            let bytes = changed(&["a.xml"], "a.xml", SIZE, &size.to_le_bytes());
            assert_eq!(file(&bytes, "a.xml"), Err(ZipFault::TooLarge));
        }
        // The second file lies over the first, and counts all the same: 500 bytes each, 999 allowed.
        let bytes = changed(&["a.xml", "b.xml"], "b.xml", HEADER_AT, &[0; 4]);
        let mut archive = Archive::open(&bytes, 999).expect("it opens");
        assert_eq!(archive.file("a.xml"), Ok(Some(text_of("a.xml").into_bytes())));
        assert_eq!(archive.file("b.xml"), Err(ZipFault::TooLarge));
    }

    #[test]
    fn an_archive_may_not_list_too_much() {
        let names: Vec<String> = (0..=MOST_ENTRIES).map(|number| number.to_string()).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        assert_eq!(file(&archive(&names), "none"), Err(ZipFault::TooLarge));
        assert_eq!(file(&archive(&names[1..]), "none"), Ok(None));
        // 200 names of 60,000 signs.
        let long = "n".repeat(60_000);
        let names: Vec<String> = (0..200).map(|number| format!("{number}{long}")).collect();
        let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
        for name in names {
            writer.start_file(name, SimpleFileOptions::default()).expect("a name");
        }
        assert_eq!(file(writer.finish().expect("an archive").get_ref(), "none"), Err(ZipFault::TooLarge));
    }
}
