//! A browser led through its debugging protocol: one process, a tab for each page, real keys and a real mouse.
//!
//! What is run in a page this way passes by the page's own policy, so that nothing of what is shipped has to be
//! loosened to look at it.

use std::io::{BufRead, BufReader};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use tungstenite::stream::MaybeTlsStream;
use tungstenite::{Message, WebSocket};

/// A browser, which ends with this value.
pub(crate) struct Browser {
    process: Child,
    socket: WebSocket<MaybeTlsStream<TcpStream>>,
    last: u64,
    /// What a page reported while it was not asked: complaints on its console, and what its policy refused.
    complaints: Vec<String>,
    loaded: bool,
    /// The tab that is looked at.
    session: String,
    _profile: tempfile::TempDir,
}

impl Drop for Browser {
    fn drop(&mut self) {
        // It may be gone already.
        drop(self.process.kill());
        drop(self.process.wait());
    }
}

impl Browser {
    /// Starts a browser with one tab.
    pub(crate) fn start() -> Self {
        let profile = tempfile::tempdir().expect("a temporary folder");
        let mut process = Command::new(super::browser())
            .args(super::SILENT)
            .arg("--remote-debugging-port=0")
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the browser starts; install Debian's chromium or set CHROMIUM");
        let stderr = process.stderr.take().expect("a pipe");
        let mut lines = BufReader::new(stderr).lines().map_while(Result::ok);
        let address = lines
            .find_map(|line| Some(line.split_once("DevTools listening on ")?.1.to_owned()))
            .expect("the browser tells where it listens");
        // What it says afterwards must not fill the pipe.
        std::thread::spawn(move || lines.for_each(drop));
        let (socket, _) = tungstenite::connect(address.as_str()).expect("the browser answers");
        if let MaybeTlsStream::Plain(stream) = socket.get_ref() {
            stream
                .set_read_timeout(Some(Duration::from_mins(2)))
                .expect("a time limit");
        }
        let mut browser = Self {
            process,
            socket,
            last: 0,
            complaints: Vec::new(),
            loaded: false,
            session: String::new(),
            _profile: profile,
        };
        let tab = browser.call("Target.createTarget", json!({"url": "about:blank"}));
        let target = &tab["targetId"];
        let attached = browser.call(
            "Target.attachToTarget",
            json!({"targetId": target, "flatten": true}),
        );
        attached["sessionId"]
            .as_str()
            .expect("a session")
            .clone_into(&mut browser.session);
        for domain in ["Page", "Runtime", "Log"] {
            browser.call(&format!("{domain}.enable"), json!({}));
        }
        browser
    }

    /// Asks for something and waits for the answer.
    pub(crate) fn call(&mut self, method: &str, parameters: Value) -> Value {
        self.last += 1;
        let mut message = json!({"id": self.last, "method": method, "params": parameters});
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        self.socket
            .send(Message::text(message.to_string()))
            .expect("the browser listens");
        loop {
            let answer = self.next();
            if answer["id"] == json!(self.last) {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
        }
    }

    /// The next message, with what it tells of the page taken down.
    fn next(&mut self) -> Value {
        let text = loop {
            if let Message::Text(text) = self.socket.read().expect("the browser goes on") {
                break text;
            }
        };
        let message: Value = serde_json::from_str(&text).expect("JSON");
        let told = &message["params"];
        match message["method"].as_str() {
            Some("Page.loadEventFired") => self.loaded = true,
            Some("Log.entryAdded") => self.complaints.push(told["entry"]["text"].to_string()),
            Some("Runtime.exceptionThrown") => self.complaints.push(told["exceptionDetails"].to_string()),
            Some("Runtime.consoleAPICalled") => self.complaints.push(told["args"].to_string()),
            Some("Page.javascriptDialogOpening") => self.complaints.push(told["message"].to_string()),
            _ => {}
        }
        message
    }

    /// Opens a page at a width and waits until it is there.
    pub(crate) fn open(&mut self, page: &Path, width: u32) {
        self.complaints.clear();
        self.widen(width);
        self.loaded = false;
        self.call(
            "Page.navigate",
            json!({"url": format!("file://{}", page.display())}),
        );
        while !self.loaded {
            self.next();
        }
    }

    /// Makes the window so wide, in CSS pixels, with the page that is open in it.
    pub(crate) fn widen(&mut self, width: u32) {
        self.call(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": false}),
        );
    }

    /// What the page complained of since it was opened.
    pub(crate) fn complaints(&mut self) -> Vec<String> {
        // Whatever came before this answer has been taken down.
        self.call("Runtime.evaluate", json!({"expression": "0"}));
        std::mem::take(&mut self.complaints)
    }

    /// Runs a script in the page, waits for what it promises, and gives what that came to.
    pub(crate) fn ask(&mut self, script: &str) -> Value {
        let answer = self.call(
            "Runtime.evaluate",
            json!({"expression": script, "returnByValue": true, "awaitPromise": true}),
        );
        let fault = &answer["exceptionDetails"];
        assert!(fault.is_null(), "{script}: {fault}");
        answer["result"]["value"].clone()
    }

    /// Shows the page as on a screen, light or dark, or as on paper.
    pub(crate) fn show(&mut self, medium: &str, scheme: &str) {
        self.call(
            "Emulation.setEmulatedMedia",
            json!({"media": medium, "features": [{"name": "prefers-color-scheme", "value": scheme}]}),
        );
    }

    /// Strikes a key.
    pub(crate) fn strike(&mut self, key: &str, code: u32) {
        let text = if key == "Enter" { "\r" } else { "" };
        let down = if text.is_empty() { "rawKeyDown" } else { "keyDown" };
        for event in [down, "keyUp"] {
            self.call(
                "Input.dispatchKeyEvent",
                json!({"type": event, "key": key, "code": key, "windowsVirtualKeyCode": code, "text": text}),
            );
        }
    }

    /// Moves the mouse to the middle of what a selector finds, or to a place within it.
    pub(crate) fn point_at(&mut self, selector: &str) -> (f64, f64) {
        let place = self.ask(&format!(
            "(() => {{ const e = document.querySelector({selector:?}); e.scrollIntoView({{block: 'center'}}); \
             const b = e.getBoundingClientRect(); return [b.left + b.width / 2, b.top + b.height / 2]; }})()"
        ));
        let number = |index: usize| place[index].as_f64().expect("a place");
        let (x, y) = (number(0), number(1));
        self.call(
            "Input.dispatchMouseEvent",
            json!({"type": "mouseMoved", "x": x, "y": y}),
        );
        (x, y)
    }

    /// Clicks in the middle of what a selector finds.
    pub(crate) fn click(&mut self, selector: &str) {
        let (x, y) = self.point_at(selector);
        for event in ["mousePressed", "mouseReleased"] {
            self.call(
                "Input.dispatchMouseEvent",
                json!({"type": event, "x": x, "y": y, "button": "left", "clickCount": 1}),
            );
        }
    }

    /// A picture of the page from its head down, as PNG.
    pub(crate) fn picture(&mut self, width: u32, height: u32) -> Vec<u8> {
        let shot = self.call(
            "Page.captureScreenshot",
            json!({
                "captureBeyondViewport": true,
                "clip": {"x": 0, "y": 0, "width": width, "height": height, "scale": 1},
            }),
        );
        let data = shot["data"].as_str().expect("a picture");
        STANDARD.decode(data).expect("Base64")
    }

    /// The page on the paper it asks for, as PDF.
    pub(crate) fn print(&mut self) -> Vec<u8> {
        let paper = self.call(
            "Page.printToPDF",
            json!({"preferCSSPageSize": true, "printBackground": true}),
        );
        let data = paper["data"].as_str().expect("paper");
        STANDARD.decode(data).expect("Base64")
    }
}
