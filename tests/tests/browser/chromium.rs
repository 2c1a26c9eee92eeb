//! Chromium without a window, driven over its debugging pipe: a shell puts the pipe's two ends where it looks for them.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// The longest that a page may take.
const PATIENCE: Duration = Duration::from_secs(60);

/// A browser with one page.
pub(crate) struct Chromium {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    session: String,
    last: u64,
    folder: PathBuf,
}

impl Chromium {
    /// Starts one; [`None`] where none is installed and none is demanded by `LEGWORK_BROWSER=1`.
    pub(crate) fn start(name: &str) -> Option<Self> {
        let program = ["chromium", "chromium-browser"].into_iter().find(|program| {
            let found = Command::new(program).arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status();
            found.is_ok_and(|status| status.success())
        });
        let demanded = std::env::var_os("LEGWORK_BROWSER").is_some_and(|value| value == "1");
        let Some(program) = program else {
            assert!(!demanded, "LEGWORK_BROWSER=1, but no Chromium is installed");
            eprintln!(
                "SKIPPED {name}: no Chromium is installed (apt-get install chromium); LEGWORK_BROWSER=1 demands it"
            );
            return None;
        };
        let folder = std::env::temp_dir().join(format!("legwork-browser-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder of this test");
        let profile = folder.join("profile");
        let mut child = Command::new("sh")
            .args(["-c", "exec \"$@\" 3<&0 4>&1 0</dev/null 1>&2", "sh", program])
            .args(["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"])
            .args(["--disable-dev-shm-usage", "--hide-scrollbars", "--remote-debugging-pipe"])
            .arg(format!("--user-data-dir={}", profile.display()))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the browser starts");
        let to = child.stdin.take().expect("a pipe");
        let from = BufReader::new(child.stdout.take().expect("a pipe"));
        let mut browser = Self { child, to, from, session: String::new(), last: 0, folder };
        let target = browser.call("Target.createTarget", json!({"url": "about:blank"}));
        let attached = browser.call("Target.attachToTarget", json!({"targetId": target["targetId"], "flatten": true}));
        browser.session = attached["sessionId"].as_str().expect("a session").to_owned();
        Some(browser)
    }

    /// A folder that goes with the browser.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// One command and its answer.
    pub(crate) fn call(&mut self, method: &str, parameters: Value) -> Value {
        self.last += 1;
        let mut message = json!({"id": self.last, "method": method, "params": parameters});
        if !self.session.is_empty() && !method.starts_with("Browser.") {
            message["sessionId"] = Value::from(self.session.as_str());
        }
        self.to.write_all(format!("{message}\0").as_bytes()).expect("the browser listens");
        self.to.flush().expect("the browser listens");
        loop {
            let mut bytes = Vec::new();
            self.from.read_until(0, &mut bytes).expect("the browser answers");
            assert_eq!(bytes.pop(), Some(0), "the browser has ended");
            let mut answer: Value = serde_json::from_slice(&bytes).expect("an answer in JSON");
            if answer["id"] == self.last {
                assert!(answer.get("error").is_none(), "{method}: {answer}");
                return answer["result"].take();
            }
        }
    }

    /// Opens a file and waits until it is there.
    pub(crate) fn open(&mut self, path: &Path) {
        let url = format!("file://{}", path.display());
        let opened = self.call("Page.navigate", json!({"url": url}));
        assert!(opened.get("errorText").is_none(), "{url}: {opened}");
        let start = Instant::now();
        while self.evaluate("document.readyState") != "complete" {
            assert!(start.elapsed() < PATIENCE, "{url} does not load");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The value of an expression in the page.
    pub(crate) fn evaluate(&mut self, expression: &str) -> Value {
        let parameters = json!({"expression": expression, "returnByValue": true, "awaitPromise": true});
        let mut answer = self.call("Runtime.evaluate", parameters);
        assert!(answer.get("exceptionDetails").is_none(), "{expression}: {answer}");
        answer["result"]["value"].take()
    }

    /// A window of so many pixels, as a phone's.
    pub(crate) fn resize(&mut self, width: u32, height: u32) {
        let window = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": true});
        self.call("Emulation.setDeviceMetricsOverride", window);
    }
}

impl Drop for Chromium {
    fn drop(&mut self) {
        // What can't be ended or cleared away is the system's to clear.
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}
