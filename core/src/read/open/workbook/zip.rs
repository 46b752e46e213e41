//! The files inside a zip archive, within limits and with their checksums. It knows nothing of what they hold.
//!
//! Layout by the published application note of the format (PKWARE APPNOTE 6.3.10): the directory at the end names
//! every file with its sizes, so that nothing is unpacked before it is known to be small enough. Archives beyond 4 GB
//! and of several disks are refused.

use miniz_oxide::inflate::decompress_to_vec_with_limit;

/// Why an archive or a file in it can't be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::read) enum ZipFault {
    /// No directory, a wrong length or a wrong checksum.
    Damaged,
    /// Locked by a password.
    Locked,
    /// Unpacks to more than the limit.
    TooLarge,
}

/// An archive of which only the directory has been read.
pub(in crate::read) struct Archive<'a> {
    bytes: &'a [u8],
    entries: Vec<Entry>,
    /// What may still be unpacked.
    bytes_left: usize,
}

struct Entry {
    name: String,
    flags: u16,
    method: u16,
    checksum: u32,
    packed_bytes: usize,
    unpacked_bytes: usize,
    header_at: usize,
}

const DIRECTORY_END: u32 = 0x0605_4b50;
const DIRECTORY_ENTRY: u32 = 0x0201_4b50;
const FILE_HEADER: u32 = 0x0403_4b50;
const MOST_ENTRIES: usize = 20_000;

impl<'a> Archive<'a> {
    /// Reads the directory. `most_bytes` is what all files that are asked for may unpack to together.
    pub fn open(bytes: &'a [u8], most_bytes: usize) -> Result<Self, ZipFault> {
        let end = directory_end(bytes).ok_or(ZipFault::Damaged)?;
        let count = usize::from(u16_at(bytes, end + 10)?);
        let mut at = u32_at(bytes, end + 16)? as usize;
        if count > MOST_ENTRIES {
            return Err(ZipFault::TooLarge);
        }
        let mut entries = Vec::new();
        for _ in 0..count {
            let (entry, next) = entry_at(bytes, at)?;
            entries.push(entry);
            at = next;
        }
        Ok(Archive { bytes, entries, bytes_left: most_bytes })
    }

    pub fn has(&self, name: &str) -> bool {
        self.entries.iter().any(|entry| entry.is_called(name))
    }

    /// A file unpacked; `None` where the archive has none of this name.
    pub fn file(&mut self, name: &str) -> Result<Option<Vec<u8>>, ZipFault> {
        let Some(entry) = self.entries.iter().find(|entry| entry.is_called(name)) else { return Ok(None) };
        if entry.flags & 1 == 1 {
            return Err(ZipFault::Locked);
        }
        if entry.unpacked_bytes > self.bytes_left {
            return Err(ZipFault::TooLarge);
        }
        let unpacked = entry.unpack(self.bytes)?;
        self.bytes_left -= unpacked.len();
        Ok(Some(unpacked))
    }
}

impl Entry {
    /// Names are compared without capitals and leading strokes, as office programs do.
    fn is_called(&self, name: &str) -> bool {
        self.name.trim_start_matches('/').eq_ignore_ascii_case(name.trim_start_matches('/'))
    }

    fn unpack(&self, bytes: &[u8]) -> Result<Vec<u8>, ZipFault> {
        if u32_at(bytes, self.header_at)? != FILE_HEADER {
            return Err(ZipFault::Damaged);
        }
        let name_length = usize::from(u16_at(bytes, self.header_at + 26)?);
        let extra_length = usize::from(u16_at(bytes, self.header_at + 28)?);
        let start = self.header_at + 30 + name_length + extra_length;
        let end = start.checked_add(self.packed_bytes).ok_or(ZipFault::Damaged)?;
        let packed = bytes.get(start..end).ok_or(ZipFault::Damaged)?;
        let unpacked = match self.method {
            0 => packed.to_vec(),
            8 => decompress_to_vec_with_limit(packed, self.unpacked_bytes).map_err(|_| ZipFault::Damaged)?,
            _ => return Err(ZipFault::Damaged),
        };
        let whole = unpacked.len() == self.unpacked_bytes && checksum(&unpacked) == self.checksum;
        whole.then_some(unpacked).ok_or(ZipFault::Damaged)
    }
}

/// The directory's end stands in the last bytes, before a comment of at most 65,535 bytes.
fn directory_end(bytes: &[u8]) -> Option<usize> {
    let last = bytes.len().checked_sub(22)?;
    let first = last.saturating_sub(usize::from(u16::MAX));
    (first..=last).rev().find(|at| u32_at(bytes, *at) == Ok(DIRECTORY_END))
}

/// The entry that begins at a byte, and where the next one begins.
fn entry_at(bytes: &[u8], at: usize) -> Result<(Entry, usize), ZipFault> {
    if u32_at(bytes, at)? != DIRECTORY_ENTRY {
        return Err(ZipFault::Damaged);
    }
    let name_length = usize::from(u16_at(bytes, at + 28)?);
    let extra_length = usize::from(u16_at(bytes, at + 30)?);
    let comment_length = usize::from(u16_at(bytes, at + 32)?);
    let name = bytes.get(at + 46..at + 46 + name_length).ok_or(ZipFault::Damaged)?;
    let entry = Entry {
        name: String::from_utf8_lossy(name).replace('\\', "/"),
        flags: u16_at(bytes, at + 8)?,
        method: u16_at(bytes, at + 10)?,
        checksum: u32_at(bytes, at + 16)?,
        packed_bytes: u32_at(bytes, at + 20)? as usize,
        unpacked_bytes: u32_at(bytes, at + 24)? as usize,
        header_at: u32_at(bytes, at + 42)? as usize,
    };
    Ok((entry, at + 46 + name_length + extra_length + comment_length))
}

fn u16_at(bytes: &[u8], at: usize) -> Result<u16, ZipFault> {
    let pair = at.checked_add(2).and_then(|end| bytes.get(at..end)).ok_or(ZipFault::Damaged)?;
    Ok(u16::from_le_bytes([pair[0], pair[1]]))
}

fn u32_at(bytes: &[u8], at: usize) -> Result<u32, ZipFault> {
    Ok(u32::from(u16_at(bytes, at)?) | u32::from(u16_at(bytes, at.saturating_add(2))?) << 16)
}

/// CRC-32 with the polynomial of ISO 3309, bits reversed, a byte at a time.
fn checksum(bytes: &[u8]) -> u32 {
    const POLYNOMIAL: u32 = 0xedb8_8320;
    const fn table() -> [u32; 256] {
        let mut table = [0; 256];
        let mut index = 0;
        while index < 256 {
            let mut value = index as u32;
            let mut bit = 0;
            while bit < 8 {
                value = if value & 1 == 1 { (value >> 1) ^ POLYNOMIAL } else { value >> 1 };
                bit += 1;
            }
            table[index] = value;
            index += 1;
        }
        table
    }
    const TABLE: [u32; 256] = table();
    !bytes.iter().fold(!0, |crc, byte| TABLE[((crc ^ u32::from(*byte)) & 0xff) as usize] ^ (crc >> 8))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_that_of_the_published_check_string() {
        // "123456789" gives cbf43926 (the check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRCs).
        assert_eq!(checksum(b"123456789"), 0xcbf4_3926);
    }

    #[test]
    fn what_is_no_archive_is_damaged() {
        for bytes in [&b""[..], b"PK", &[0; 22], b"PK\x05\x06 and nothing that could be a directory"] {
            assert!(Archive::open(bytes, 1000).map(|archive| archive.entries.len()).unwrap_or(0) == 0);
        }
    }
}
