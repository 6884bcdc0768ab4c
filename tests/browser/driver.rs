//! A browser session, and the driver process that runs it.

use std::env;
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use serde_json::Value;
use thirtyfour::prelude::*;
use thirtyfour::{ChromeCapabilities, ChromiumLikeCapabilities, LoggingPrefsLogLevel};
use tokio::runtime::Runtime;

/// Chromium, its driver, and the runtime on which the client talks to it; all end with this value.
pub struct Session {
    client: Option<WebDriver>,
    runtime: Runtime,
    process: Child,
}

impl Session {
    /// Starts a driver on a free port and a browser with an empty profile.
    pub fn start() -> Session {
        let (mut process, port) = start_driver();
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
        let runtime = runtime.expect("an async runtime");
        match runtime.block_on(WebDriver::new(format!("http://127.0.0.1:{port}"), capabilities())) {
            Ok(client) => Session { client: Some(client), runtime, process },
            Err(reason) => {
                let _ = process.kill();
                let _ = process.wait();
                panic!("the browser does not start: {reason}");
            }
        }
    }

    /// The client's handle to the session.
    pub fn client(&self) -> &WebDriver {
        self.client.as_ref().expect("the session is open")
    }

    /// Waits for one answer of the browser.
    #[track_caller]
    pub fn wait<T>(&self, answer: impl Future<Output = WebDriverResult<T>>) -> T {
        match self.attempt(answer) {
            Ok(value) => value,
            Err(reason) => panic!("{reason}"),
        }
    }

    /// Waits for one answer of the browser, which may be a refusal.
    pub fn attempt<T>(&self, answer: impl Future<Output = WebDriverResult<T>>) -> WebDriverResult<T> {
        self.runtime.block_on(answer)
    }

    /// Sends a command of the browser's own debugging protocol.
    #[track_caller]
    pub fn command(&self, method: &str, parameters: Value) -> Value {
        let cdp = self.client().cdp();
        self.wait(cdp.send_raw(method, parameters))
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        // The browser outlives a driver that is killed, so it is asked to quit first.
        if let Some(client) = self.client.take() {
            let _ = self.runtime.block_on(client.quit());
        }
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

/// Runs the driver. It gets none of our streams: one that outlives a test run would hold them open.
fn start_driver() -> (Child, u16) {
    let program = env::var("SISTERFRAME_CHROMEDRIVER").unwrap_or_else(|_| "chromedriver".into());
    // Another program can take the port between our asking for a free one and the driver's start.
    for _ in 0..5 {
        let free = TcpListener::bind("127.0.0.1:0").and_then(|socket| socket.local_addr());
        let port = free.expect("a free port").port();
        let mut process = Command::new(&program)
            .arg(format!("--port={port}"))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|e| panic!("{program} does not start: {e}; `cargo xtask test` fetches it"));
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(20) && matches!(process.try_wait(), Ok(None)) {
            if TcpStream::connect(("127.0.0.1", port)).is_ok() {
                return (process, port);
            }
            sleep(Duration::from_millis(20));
        }
        let _ = process.kill();
        let _ = process.wait();
    }
    panic!("{program} opens no port");
}

fn capabilities() -> ChromeCapabilities {
    let mut wanted = DesiredCapabilities::chrome();
    let mut set = || -> WebDriverResult<()> {
        if let Ok(program) = env::var("SISTERFRAME_CHROMIUM") {
            wanted.set_binary(&program)?;
        }
        for flag in [
            "--headless",
            // Chromium refuses to run as root with its sandbox; the only page it opens is ours.
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--hide-scrollbars",
            "--force-device-scale-factor=1",
        ] {
            wanted.add_arg(flag)?;
        }
        wanted.set_logging_prefs("browser", LoggingPrefsLogLevel::All)?;
        wanted.set_logging_prefs("performance", LoggingPrefsLogLevel::All)
    };
    set().expect("capabilities are plain values");
    wanted
}
