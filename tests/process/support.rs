//! Starting the program, and asking it over plain sockets.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, ChildStdout, Command, ExitStatus, Output, Stdio};
use std::time::{Duration, Instant};

/// Longer than anything here takes on a busy machine.
pub(crate) const PATIENCE: Duration = Duration::from_secs(30);

/// The program with no setting from the surroundings.
pub(crate) fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ramwright"));
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("RAMWRIGHT_")) {
        command.env_remove(name);
    }
    command
}

/// Runs the program to its end.
pub(crate) fn output(arguments: &[&str], variables: &[(&str, &str)]) -> Output {
    program().args(arguments).envs(variables.iter().copied()).stdin(Stdio::null()).output().expect("it runs")
}

/// The program serving on a free port; killed when dropped, if it still runs.
pub(crate) struct Serving {
    child: Child,
    log: BufReader<ChildStdout>,
    /// Where it listens.
    pub(crate) address: SocketAddr,
}

impl Serving {
    pub(crate) fn start(variables: &[(&str, &str)]) -> Self {
        let mut command = program();
        command.env("RAMWRIGHT_ADDRESS", "127.0.0.1:0").envs(variables.iter().copied());
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().expect("it starts");
        let mut log = BufReader::new(child.stdout.take().expect("its output is piped"));
        let line = line_with(&mut log, "\"listening\"");
        let address = line.split("\"address\":\"").nth(1).and_then(|rest| rest.split('"').next());
        let address = address.and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("no address in {line}"));
        Self { child, log, address }
    }

    /// Sends it a signal by name.
    pub(crate) fn signal(&self, name: &str) {
        let sent = Command::new("kill").args(["-s", name, &self.child.id().to_string()]).status().expect("kill runs");
        assert!(sent.success(), "the signal {name} was not sent");
    }

    /// Waits for a line of the log.
    pub(crate) fn log_line(&mut self, part: &str) -> String {
        line_with(&mut self.log, part)
    }

    /// Waits for its end, and gives the rest of its log.
    pub(crate) fn end(mut self) -> (ExitStatus, String) {
        let begun = Instant::now();
        let status = loop {
            if let Some(status) = self.child.try_wait().expect("its end can be awaited") {
                break status;
            }
            assert!(begun.elapsed() < PATIENCE, "it does not end");
            std::thread::sleep(Duration::from_millis(10));
        };
        let mut rest = String::new();
        self.log.read_to_string(&mut rest).expect("the log is UTF-8");
        (status, rest)
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The first line from here on that has this part; the log ends with the process.
fn line_with(log: &mut impl BufRead, part: &str) -> String {
    loop {
        let mut line = String::new();
        assert_ne!(log.read_line(&mut line).expect("the log is UTF-8"), 0, "the log ends without {part}");
        if line.contains(part) {
            return line;
        }
    }
}

/// Opens a connection.
pub(crate) fn connect(address: SocketAddr) -> TcpStream {
    let stream = TcpStream::connect(address).expect("it listens");
    stream.set_read_timeout(Some(PATIENCE)).expect("a time limit can be set");
    stream
}

/// What is answered until the connection is closed.
pub(crate) fn read_all(mut stream: TcpStream) -> String {
    let mut answer = Vec::new();
    // A reset after the answer is as good as a close.
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// Gets an address.
pub(crate) fn get(address: SocketAddr, path: &str) -> String {
    let mut stream = connect(address);
    write!(stream, "GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n").expect("it can be asked");
    read_all(stream)
}
