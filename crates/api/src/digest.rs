//! Digests and permalinks: functions of the canonical request alone.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use flate2::Compression;
use flate2::read::DeflateDecoder;
use flate2::write::DeflateEncoder;
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::io::{Read as _, Write as _};

/// The longest permalink that is given out, in bytes. Longer ones do not survive proxies and cells.
pub const LONGEST_PERMALINK: usize = 8 * 1024;
/// The most that a permalink may unpack to, in bytes: the default body limit.
const MOST_UNPACKED: u64 = 1024 * 1024;

/// `sha256:` and the digest of a text in hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold("sha256:".to_owned(), |mut text, byte| {
        let digit = |nibble: u8| char::from_digit(nibble.into(), 16).unwrap_or('0');
        text.push(digit(byte >> 4));
        text.push(digit(byte & 15));
        text
    })
}

/// The packed form of a canonical request; nothing if it cannot be packed.
pub(crate) fn pack(request: &Value) -> Option<String> {
    let mut encoder = DeflateEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(request.to_string().as_bytes()).ok()?;
    Some(URL_SAFE_NO_PAD.encode(encoder.finish().ok()?))
}

/// Unpacks what [`pack`] packed.
pub(crate) fn unpack(parameter: &str) -> Option<Vec<u8>> {
    let packed = URL_SAFE_NO_PAD.decode(parameter).ok()?;
    let mut text = Vec::new();
    // One byte more than is taken, so that too much is told from just enough.
    DeflateDecoder::new(packed.as_slice()).take(MOST_UNPACKED + 1).read_to_end(&mut text).ok()?;
    (u64::try_from(text.len()).ok()? <= MOST_UNPACKED).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4, the example message "abc".
    #[test]
    fn validate_sha256() {
        assert_eq!(sha256(b"abc"), "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn verify_unpacking_gives_the_request_back_and_never_a_bomb() {
        let request = serde_json::json!({ "load_case": { "weight": { "value": 212.0, "unit": "t" } } });
        assert_eq!(unpack(&pack(&request).unwrap()).unwrap(), request.to_string().as_bytes());
        let bomb = pack(&Value::String(" ".repeat(3_000_000))).unwrap();
        assert!(bomb.len() < 6_000 && unpack(&bomb).is_none());
        for text in ["", "!", "AAAA", "abc"] {
            assert!(unpack(text).is_none_or(|unpacked| unpacked.len() < 10));
        }
    }
}
