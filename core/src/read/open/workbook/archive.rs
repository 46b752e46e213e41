//! The files inside a zip archive, within limits and with their checksums. It knows nothing of what they hold.
//!
//! The crate `zip` takes the archive apart, unpacks and holds the checksums. Here are the limits: how much may be read
//! to get the list of files, how many it may name, and what files may unpack to, before any of them is unpacked. The
//! crate tells how many files there are only once it has read the list, so its length is what bounds that reading.
//! Files that lie over each other gain nothing by it: every one that is asked for counts in full. Archives beyond 4 GB
//! and of several disks are refused, and so are two files of one name, because programs differ in which they take.

use std::collections::BTreeMap;
use std::io::{self, Cursor, Read, Seek, SeekFrom};
use std::sync::Arc;
use zip::read::{ArchiveOffset, Config, ZipArchiveMetadata, ZipFileEntry};
use zip::result::ZipError;
use zip::{ZipArchive, ZipReadOptions};

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
    directory: Arc<ZipArchiveMetadata>,
    /// Which file of the directory has a name, by the name in its plain form.
    places: BTreeMap<String, usize>,
    /// What may still be unpacked.
    bytes_left: u64,
}

const MOST_ENTRIES: usize = 20_000;

/// What may be read of an archive to find and read its directory: room for 500 bytes a file. In memory it takes more
/// than in the archive, because the crate makes a record of every extra field, however small.
const MOST_DIRECTORY_BYTES: usize = 10_000_000;

impl<'a> Archive<'a> {
    /// Reads the directory. `most_bytes` is what all files that are asked for may unpack to together.
    pub fn open(bytes: &'a [u8], most_bytes: u64) -> Result<Self, ZipFault> {
        if is_beyond_4_gb(bytes) {
            return Err(ZipFault::TooLarge);
        }
        let directory = directory(bytes)?;
        if directory.len() > MOST_ENTRIES {
            return Err(ZipFault::TooLarge);
        }
        if directory.has_duplicate_names() {
            return Err(ZipFault::Damaged);
        }
        let mut places = BTreeMap::new();
        for place in 0..directory.len() {
            let name = String::from_utf8_lossy(directory.entry(place)?.name_raw()).replace('\\', "/");
            places.entry(plain(&name)).or_insert(place);
        }
        Ok(Archive { bytes, directory, places, bytes_left: most_bytes })
    }

    pub fn has(&self, name: &str) -> bool {
        self.places.contains_key(&plain(name))
    }

    /// A file unpacked; `None` where the archive has none of this name.
    pub fn file(&mut self, name: &str) -> Result<Option<Vec<u8>>, ZipFault> {
        let Some(place) = self.places.get(&plain(name)) else { return Ok(None) };
        let entry = self.directory.entry(*place)?;
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
}

/// Names are compared without capitals and leading strokes, as office programs do.
fn plain(name: &str) -> String {
    name.trim_start_matches('/').to_ascii_lowercase()
}

/// Whether the last bytes hold an end of the directory that leaves its numbers to a longer record, whose place the
/// twenty bytes before it tell (PKWARE APPNOTE 6.3.10, 4.3.15 and 4.3.16). That record can name any number of files,
/// and the crate makes room for them before it reads them.
fn is_beyond_4_gb(bytes: &[u8]) -> bool {
    let longest = 42 + usize::from(u16::MAX);
    let last = &bytes[bytes.len().saturating_sub(longest)..];
    last.windows(42).any(|ends| {
        let (place, end) = ends.split_at(20);
        let is_end = place.starts_with(b"PK\x06\x07") && end.starts_with(b"PK\x05\x06");
        is_end && [8..10, 10..12, 12..16, 16..20].into_iter().any(|number| end[number].iter().all(|byte| *byte == 255))
    })
}

fn directory(bytes: &[u8]) -> Result<Arc<ZipArchiveMetadata>, ZipFault> {
    let config = Config { archive_offset: ArchiveOffset::Known(0) };
    let mut source = Rationed { bytes: Cursor::new(bytes), left: Some(MOST_DIRECTORY_BYTES) };
    let directory = ZipArchive::with_config(config, &mut source).map(|archive| archive.metadata());
    if source.left.is_none() {
        return Err(ZipFault::TooLarge);
    }
    Ok(directory?)
}

/// A file whole, or nothing of it. Not a byte more is unpacked than shows that the size in the directory is wrong.
fn unpacked(entry: ZipFileEntry<'_>, archive: &[u8]) -> Result<Vec<u8>, ZipFault> {
    let size = entry.size();
    let mut unpacked = Vec::new();
    let mut archive = Cursor::new(archive);
    entry.with_reader(&mut archive, ZipReadOptions::new())?.take(size + 1).read_to_end(&mut unpacked)?;
    let is_whole = unpacked.len() as u64 == size;
    is_whole.then_some(unpacked).ok_or(ZipFault::Damaged)
}

/// Bytes of which no more than a ration is read.
struct Rationed<'a> {
    bytes: Cursor<&'a [u8]>,
    /// What may still be read; `None` once more was asked for.
    left: Option<usize>,
}

impl Read for Rationed<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.bytes.read(buffer)?;
        self.left = self.left.and_then(|left| left.checked_sub(read));
        self.left.map(|_| read).ok_or(io::ErrorKind::FileTooLarge.into())
    }
}

impl Seek for Rationed<'_> {
    fn seek(&mut self, place: SeekFrom) -> io::Result<u64> {
        self.bytes.seek(place)
    }
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
        // Of two files with the very same name no one knows which is meant.
        assert_eq!(file(&changed(&["a.x", "b.x"], "b.x", ENTRY, b"a.x"), "a.x"), Err(ZipFault::Damaged));
    }

    #[test]
    fn what_is_no_archive_is_damaged() {
        for bytes in [&b""[..], b"PK", &[0; 22], b"PK\x05\x06 and nothing that could be a directory"] {
            assert!(Archive::open(bytes, 1000).map(|archive| archive.places.len()).unwrap_or(0) == 0);
        }
        // As many ends of a directory as there is room for, each with a comment to be read: that is given up.
        assert_eq!(file(&b"PK\x05\x06".repeat(20_000), "a"), Err(ZipFault::TooLarge));
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
