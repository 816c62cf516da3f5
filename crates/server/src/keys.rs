//! Keys of callers: a file of names and digests, and how often each may ask.
//!
//! The file holds no key, only what its SHA-256 is: keys are long and made by chance, so that no slower digest is needed.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use sha2::{Digest, Sha256};

/// Fewer characters could be guessed.
const SHORTEST_KEY: usize = 24;

const LONGEST_NAME: usize = 64;

type KeyDigest = [u8; 32];

/// Why the keys cannot be used.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum KeysError {
    /// The file cannot be read.
    #[error("cannot read {path}")]
    Read {
        /// The file.
        path: PathBuf,
        /// The system's reason.
        source: std::io::Error,
    },
    /// The file has faults.
    #[error("{path} has faults:{}", lines(.faults))]
    Faulty {
        /// The file.
        path: PathBuf,
        /// What is wrong, line by line.
        faults: Vec<String>,
    },
}

fn lines(faults: &[String]) -> String {
    faults.iter().flat_map(|fault| ["\n  ", fault.as_str()]).collect()
}

/// Why a key cannot be hashed.
#[derive(Debug, Eq, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum KeyFault {
    /// It is too short.
    #[error("a key has at least {SHORTEST_KEY} characters; `openssl rand -hex 32` makes one")]
    Short,
    /// It cannot be sent.
    #[error("a key has letters, digits and the signs - . _ ~ + / = only, as a header can carry it")]
    Unfit,
}

/// What the file of keys says of this key: its SHA-256 as hexadecimal digits.
///
/// # Errors
/// [`KeyFault`] for a key that is too short or that no header can carry.
pub fn hash(key: &str) -> Result<String, KeyFault> {
    if key.len() < SHORTEST_KEY {
        return Err(KeyFault::Short);
    }
    if !key.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"-._~+/=".contains(&byte)) {
        return Err(KeyFault::Unfit);
    }
    Ok(crate::hex(&Sha256::digest(key.as_bytes())))
}

/// The keys that are taken.
#[derive(Debug)]
pub(crate) struct Keys(Vec<(Arc<str>, KeyDigest)>);

impl Keys {
    /// Reads a file of lines `name sha256`; empty lines and those that begin with `#` are left out.
    ///
    /// # Errors
    /// [`KeysError`] with every fault.
    pub(crate) fn load(path: &Path) -> Result<Self, KeysError> {
        let unreadable = |source| KeysError::Read { path: path.to_owned(), source };
        let text = std::fs::read_to_string(path).map_err(unreadable)?;
        Self::parse(&text).map_err(|faults| KeysError::Faulty { path: path.to_owned(), faults })
    }

    fn parse(text: &str) -> Result<Self, Vec<String>> {
        let mut keys: Vec<(Arc<str>, KeyDigest)> = Vec::new();
        let mut faults = Vec::new();
        let written = text.lines().enumerate().map(|(index, line)| (index + 1, line.trim()));
        for (number, line) in written.filter(|(_, line)| !line.is_empty() && !line.starts_with('#')) {
            match entry(line) {
                Err(fault) => faults.push(format!("line {number}: {fault}")),
                Ok((name, _)) if keys.iter().any(|(own, _)| **own == *name) => {
                    faults.push(format!("line {number}: the name {name} is there already"));
                }
                Ok((name, digest)) => keys.push((name.into(), digest)),
            }
        }
        if keys.is_empty() && faults.is_empty() {
            faults.push("it has no key, so that nobody could ask anything".to_owned());
        }
        if faults.is_empty() { Ok(Self(keys)) } else { Err(faults) }
    }

    /// The name of this key. Every digest is compared, and wholly, so that the time tells nothing of how near a guess was.
    fn name_of(&self, key: &str) -> Option<Arc<str>> {
        let digest: KeyDigest = Sha256::digest(key.as_bytes()).into();
        let mut found = None;
        for (name, own) in &self.0 {
            let differing = own.iter().zip(&digest).fold(0, |bits, (left, right)| bits | (left ^ right));
            if std::hint::black_box(differing) == 0 {
                found = Some(Arc::clone(name));
            }
        }
        found
    }
}

fn entry(line: &str) -> Result<(&str, KeyDigest), String> {
    let mut words = line.split_whitespace();
    let (Some(name), Some(digest), None) = (words.next(), words.next(), words.next()) else {
        return Err("must be a name and a digest, as `ramwright hash-key` prints it".to_owned());
    };
    let fit = name.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"._-".contains(&byte));
    if !fit || LONGEST_NAME < name.len() {
        return Err(format!("a name has at most {LONGEST_NAME} letters, digits, dots, dashes and underscores"));
    }
    digest_of(digest).map(|digest| (name, digest)).ok_or_else(|| "the digest must be 64 hexadecimal digits".to_owned())
}

fn digest_of(text: &str) -> Option<KeyDigest> {
    if text.len() != 64 || !text.is_ascii() {
        return None;
    }
    let mut digest = KeyDigest::default();
    for (byte, pair) in digest.iter_mut().zip(text.as_bytes().chunks_exact(2)) {
        *byte = u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok()?;
    }
    Some(digest)
}

/// Who may ask, and how often. Without keys everybody may, as often as they like.
#[derive(Debug, Default)]
pub(crate) struct Gate {
    keys: Option<Keys>,
    requests_per_minute: Option<f64>,
    buckets: Mutex<BTreeMap<Arc<str>, Bucket>>,
}

/// Why a request is not let in.
#[derive(Debug, Eq, PartialEq)]
pub(crate) enum Refusal {
    /// It has no key.
    NoKey,
    /// It has a key that is none of ours.
    WrongKey,
    /// Its key has asked too often; it may ask again after so long.
    TooOften(Duration),
}

/// How many requests a key may make now: they run out with each and come back with time.
#[derive(Debug)]
struct Bucket {
    left: f64,
    at: Instant,
}

impl Gate {
    /// The gate for these keys; 0 requests a minute is no limit.
    pub(crate) fn new(keys: Option<Keys>, requests_per_minute: u32) -> Self {
        let requests_per_minute = (0 < requests_per_minute).then_some(f64::from(requests_per_minute));
        Self { keys, requests_per_minute, buckets: Mutex::default() }
    }

    /// Lets a request in with the name of its key, if keys are asked for.
    ///
    /// # Errors
    /// [`Refusal`] says why it is not let in.
    pub(crate) fn admit(&self, authorization: Option<&str>, now: Instant) -> Result<Option<Arc<str>>, Refusal> {
        let Some(keys) = &self.keys else { return Ok(None) };
        let key = authorization.and_then(bearer).ok_or(Refusal::NoKey)?;
        let name = keys.name_of(key).ok_or(Refusal::WrongKey)?;
        if let Some(limit) = self.requests_per_minute {
            self.take(&name, limit, now)?;
        }
        Ok(Some(name))
    }

    fn take(&self, name: &Arc<str>, per_minute: f64, now: Instant) -> Result<(), Refusal> {
        const MINUTE_S: f64 = 60.0;
        let mut buckets = self.buckets.lock().unwrap_or_else(PoisonError::into_inner);
        let bucket = buckets.entry(Arc::clone(name)).or_insert(Bucket { left: per_minute, at: now });
        let come_back = now.saturating_duration_since(bucket.at).as_secs_f64() * per_minute / MINUTE_S;
        bucket.left = (bucket.left + come_back).min(per_minute);
        bucket.at = now;
        if bucket.left < 1.0 {
            let wait_s = (1.0 - bucket.left) * MINUTE_S / per_minute;
            return Err(Refusal::TooOften(Duration::from_secs_f64(wait_s)));
        }
        bucket.left -= 1.0;
        Ok(())
    }
}

/// The key in a header `Authorization: Bearer key`.
fn bearer(authorization: &str) -> Option<&str> {
    let (scheme, key) = authorization.split_once(' ')?;
    scheme.eq_ignore_ascii_case("bearer").then(|| key.trim())
}

#[cfg(test)]
mod tests {
    use super::*;

    const KEY: &str = "an-invented-key-of-thirty-two-ch";

    fn gate(per_minute: u32) -> Gate {
        let text = format!("# desk\n\nnorth {}\nsouth {}\n", hash(KEY).unwrap(), "0".repeat(64));
        Gate::new(Some(Keys::parse(&text).unwrap()), per_minute)
    }

    #[test]
    fn verify_only_a_known_key_is_let_in_and_by_its_name() {
        let (gate, now) = (gate(0), Instant::now());
        for scheme in ["Bearer", "bearer"] {
            let admitted = gate.admit(Some(&format!("{scheme} {KEY}")), now).unwrap();
            assert_eq!(admitted.as_deref(), Some("north"));
        }
        assert_eq!(gate.admit(None, now), Err(Refusal::NoKey));
        assert_eq!(gate.admit(Some(KEY), now), Err(Refusal::NoKey));
        assert_eq!(gate.admit(Some(&format!("Basic {KEY}")), now), Err(Refusal::NoKey));
        for wrong in [&format!("{KEY}x"), "", &"0".repeat(64), &hash(KEY).unwrap()] {
            assert_eq!(gate.admit(Some(&format!("Bearer {wrong}")), now), Err(Refusal::WrongKey), "{wrong}");
        }
        assert_eq!(Gate::default().admit(None, now), Ok(None));
    }

    #[test]
    fn verify_a_key_may_ask_so_often_a_minute_and_no_more() {
        let (gate, begun) = (gate(30), Instant::now());
        let header = format!("Bearer {KEY}");
        let ask = |after_s: f64| gate.admit(Some(&header), begun + Duration::from_secs_f64(after_s));
        for _ in 0..30 {
            ask(0.0).unwrap();
        }
        assert_eq!(ask(0.0), Err(Refusal::TooOften(Duration::from_secs(2))));
        assert_eq!(ask(1.0), Err(Refusal::TooOften(Duration::from_secs(1))));
        ask(2.0).unwrap();
        assert!(ask(2.0).is_err());
        // However long nobody asks, no more than a minute's worth comes back.
        let admitted = (0..100).filter(|_| ask(1000.0).is_ok()).count();
        assert_eq!(admitted, 30);
    }

    #[test]
    fn verify_every_fault_of_the_file_is_named_with_its_line() {
        let digest = "a".repeat(64);
        let text = format!("a {digest}\na {digest}\nb\nc {digest} d\n!? {digest}\nd xyz\ne {}g\n", "a".repeat(63));
        let faults = Keys::parse(&text).unwrap_err();
        let lines: Vec<_> = faults.iter().map(|fault| fault.split(':').next().unwrap()).collect();
        assert_eq!(lines, ["line 2", "line 3", "line 4", "line 5", "line 6", "line 7"]);
        assert_eq!(Keys::parse("# nothing\n").unwrap_err().len(), 1);
    }

    #[test]
    fn verify_a_key_that_could_be_guessed_or_not_be_sent_is_refused() {
        assert_eq!(hash("short"), Err(KeyFault::Short));
        assert_eq!(hash("a key with blanks in it is unfit"), Err(KeyFault::Unfit));
        // FIPS 180-2, the two-block message, is a key that is fit.
        let published = "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1";
        assert_eq!(hash("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq").as_deref(), Ok(published));
    }
}
