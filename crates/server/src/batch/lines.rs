//! The body of a batch, cut into lines.

use std::future::poll_fn;
use std::pin::Pin;
use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody};
use ramwright_api::problem::{Problem, ProblemCode};
use tokio::sync::{Notify, OwnedSemaphorePermit, Semaphore, mpsc};

/// What a line takes beside its text, so that many short lines do not add up unseen.
const BESIDE_TEXT_BYTES: usize = 64;

/// A piece of the body.
#[derive(Debug)]
pub(super) enum Cut {
    /// A line that is not empty.
    Line {
        /// Counted from 0.
        index: u64,
        text: Vec<u8>,
        /// Its part of what may be read ahead.
        room: Room,
    },
    /// A line longer than a body by itself may be.
    TooLong { index: u64, problem: Problem, room: Room },
    /// Nothing more comes: the body has ended, or why not. Without it the connection has broken.
    End(Option<Problem>),
}

/// A part of what may be read ahead, given back when it is dropped.
type Room = Option<OwnedSemaphorePermit>;

/// Lines that are being read.
pub(super) struct Lines {
    /// The lines.
    pub(super) cuts: mpsc::UnboundedReceiver<Cut>,
    /// Told when the connection has broken, so that nobody can take an answer any more.
    pub(super) gone: Arc<Notify>,
}

impl Lines {
    /// Begins to read. Twice as many bytes are read ahead as one line may have, counting what a line takes beside its
    /// text, so that a client that takes no answer before it has sent everything can send about as much as one line.
    pub(super) fn read(body: Body, limit_bytes: usize, patience: Duration) -> Self {
        let (sender, cuts) = mpsc::unbounded_channel();
        let gone = Arc::new(Notify::new());
        let reader = Reader {
            cutter: Cutter { limit_bytes, begun: Vec::new(), skipping: false },
            room: Arc::new(Semaphore::new(limit_bytes.saturating_mul(2))),
            limit_bytes,
            sender,
            gone: Arc::clone(&gone),
            index: 0,
        };
        // It ends with the body, or when the receiver is gone.
        tokio::spawn(reader.read(body, patience));
        Self { cuts, gone }
    }
}

struct Reader {
    cutter: Cutter,
    room: Arc<Semaphore>,
    limit_bytes: usize,
    sender: mpsc::UnboundedSender<Cut>,
    gone: Arc<Notify>,
    index: u64,
}

impl Reader {
    async fn read(mut self, mut body: Body, patience: Duration) {
        loop {
            let frame = poll_fn(|context| Pin::new(&mut body).poll_frame(context));
            let mut data = match tokio::time::timeout(patience, frame).await {
                Ok(Some(Ok(frame))) => frame.into_data().unwrap_or_default(),
                Ok(None) => break,
                Ok(Some(Err(_))) => return self.gone.notify_one(),
                Err(_) => {
                    let detail = format!("No more of the body came within {} s.", patience.as_secs_f64());
                    return self.end(Some(Problem::new(ProblemCode::RequestTimeout, detail)));
                }
            };
            while let Some(piece) = self.cutter.next(&mut data) {
                if self.send(piece).await.is_none() {
                    return;
                }
            }
        }
        if let Some(piece) = self.cutter.end() {
            // Nobody may be left to receive it.
            let _ = self.send(piece).await;
        }
        self.end(None);
    }

    /// Hands a piece on; nothing once nobody waits for it.
    async fn send(&mut self, piece: Piece) -> Option<()> {
        let index = self.index;
        let cut = match piece {
            Piece::Line(text) if text.iter().all(u8::is_ascii_whitespace) => return Some(()),
            Piece::Line(text) => {
                let room = self.room(text.len()).await;
                Cut::Line { index, text, room }
            }
            Piece::TooLong => {
                let detail = format!("A line may have at most {} bytes.", self.limit_bytes);
                let problem = Problem::new(ProblemCode::PayloadTooLarge, detail);
                Cut::TooLong { index, problem, room: self.room(0).await }
            }
        };
        self.index += 1;
        self.sender.send(cut).ok()
    }

    /// Waits until so much more may be read ahead. A receiver that goes away gives its room back, so that this never
    /// waits in vain.
    async fn room(&self, text_bytes: usize) -> Room {
        let bytes = (text_bytes + BESIDE_TEXT_BYTES).min(self.limit_bytes);
        Arc::clone(&self.room).acquire_many_owned(u32::try_from(bytes).unwrap_or(u32::MAX)).await.ok()
    }

    fn end(self, problem: Option<Problem>) {
        // Nobody may be left to receive it.
        let _ = self.sender.send(Cut::End(problem));
    }
}

#[derive(Debug, PartialEq)]
enum Piece {
    Line(Vec<u8>),
    TooLong,
}

/// Cuts bytes into lines as they come.
struct Cutter {
    limit_bytes: usize,
    /// A line whose end has not come yet.
    begun: Vec<u8>,
    /// Whether that line is too long already, and nothing of it is kept.
    skipping: bool,
}

impl Cutter {
    /// The next whole line; what is left of the data is kept.
    fn next(&mut self, data: &mut Bytes) -> Option<Piece> {
        let Some(end) = data.iter().position(|byte| *byte == b'\n') else {
            self.keep(&std::mem::take(data));
            return None;
        };
        let line = data.split_to(end);
        // The line end itself.
        let _ = data.split_to(1);
        self.keep(&line);
        Some(self.take())
    }

    /// The last line, if it has no line end.
    fn end(&mut self) -> Option<Piece> {
        (self.skipping || !self.begun.is_empty()).then(|| self.take())
    }

    fn keep(&mut self, data: &[u8]) {
        if self.limit_bytes < self.begun.len() + data.len() {
            self.skipping = true;
            self.begun = Vec::new();
        }
        if !self.skipping {
            self.begun.extend_from_slice(data);
        }
    }

    fn take(&mut self) -> Piece {
        if std::mem::take(&mut self.skipping) { Piece::TooLong } else { Piece::Line(std::mem::take(&mut self.begun)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(parts: &[&str], limit_bytes: usize) -> Vec<String> {
        let mut cutter = Cutter { limit_bytes, begun: Vec::new(), skipping: false };
        let mut pieces = Vec::new();
        for part in parts {
            let mut data = Bytes::copy_from_slice(part.as_bytes());
            pieces.extend(std::iter::from_fn(|| cutter.next(&mut data)));
        }
        pieces.extend(cutter.end());
        let text = |piece| match piece {
            Piece::Line(text) => String::from_utf8(text).unwrap(),
            Piece::TooLong => "too long".to_owned(),
        };
        pieces.into_iter().map(text).collect()
    }

    #[test]
    fn verify_lines_are_the_same_however_they_are_parted() {
        for parts in [&["a\nbc\n\nd"][..], &["a", "\nb", "c\n", "\nd"], &["a\nbc\n\n", "d"]] {
            assert_eq!(cut(parts, 10), ["a", "bc", "", "d"]);
        }
        assert_eq!(cut(&["a\n"], 10), ["a"]);
        assert_eq!(cut(&[], 10), [""; 0]);
    }

    #[test]
    fn verify_a_line_too_long_harms_only_itself() {
        assert_eq!(cut(&["1234\n12345\n1\n"], 4), ["1234", "too long", "1"]);
        assert_eq!(cut(&["123", "45", "67", "8\n1"], 4), ["too long", "1"]);
        assert_eq!(cut(&["1\n12345"], 4), ["1", "too long"]);
    }

    #[tokio::test]
    async fn verify_reading_stops_where_nobody_takes() {
        let body = Body::from("{}\n".repeat(1000));
        // Room for two lines at a time, so that the whole body cannot be read ahead.
        let mut lines = Lines::read(body, BESIDE_TEXT_BYTES + 2, Duration::from_secs(30)).cuts;
        let first = lines.recv().await.unwrap();
        assert!(matches!(&first, Cut::Line { index: 0, .. }));
        let second = lines.recv().await.unwrap();
        let third = tokio::time::timeout(Duration::from_millis(50), lines.recv()).await;
        assert!(third.is_err(), "{third:?}");
        drop(first);
        assert!(matches!(lines.recv().await.unwrap(), Cut::Line { index: 2, .. }));
        drop(second);
    }
}
