//! The page as a person uses it: opened in a window, read, clicked and typed at.

use std::cell::RefCell;
use std::fs;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, Instant};

use base64::Engine;
use serde_json::{Value, json};
use thirtyfour::prelude::*;

use crate::driver::Session;
use crate::part::Part;

/// How long something on the page may take to appear.
pub const PATIENCE: Duration = Duration::from_secs(15);

/// The window and the reader's settings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Width of the window in CSS pixels.
    pub width: u32,
    /// Height of the window in CSS pixels.
    pub height: u32,
    /// The system asks for a dark scheme.
    pub dark: bool,
    /// The system asks for reduced motion.
    pub still: bool,
}

impl View {
    /// A desk screen.
    pub const DESK: View = View { width: 1440, height: 900, dark: false, still: false };
    /// A tablet held upright.
    pub const TABLET: View = View { width: 820, height: 1180, dark: false, still: false };
    /// A phone held upright.
    pub const PHONE: View = View { width: 390, height: 844, dark: false, still: false };

    /// The three sizes, each light and dark.
    pub fn all() -> [View; 6] {
        let [a, b, c] = [View::DESK, View::TABLET, View::PHONE];
        [a, a.dark(), b, b.dark(), c, c.dark()]
    }

    /// The same window in the dark scheme.
    pub fn dark(self) -> View {
        View { dark: true, ..self }
    }

    /// The same window with reduced motion.
    pub fn still(self) -> View {
        View { still: true, ..self }
    }

    /// A short name for messages and files.
    pub fn name(&self) -> String {
        format!("{}-{}", self.width, if self.dark { "dark" } else { "light" })
    }
}

/// An open page. When it goes, it must have made no request and written nothing to the console.
pub struct Page {
    pub(crate) session: Session,
    view: View,
    address: String,
    requests: RefCell<Vec<String>>,
    console: RefCell<Vec<String>>,
    downloads: PathBuf,
}

impl Page {
    /// Opens the built page and waits until it has started.
    pub fn open(view: View) -> Page {
        let page = Page::open_file(view, &built());
        page.await_start();
        page
    }

    /// Opens a file of any content, network off; does not wait for anything.
    pub fn open_file(view: View, path: &Path) -> Page {
        assert!(path.exists(), "{} is missing: `cargo xtask build` writes it", path.display());
        let downloads = scratch("downloads");
        fs::create_dir_all(&downloads).expect("a folder for downloads");
        let page = Page {
            session: Session::start(),
            view,
            address: format!("file://{}", path.display()),
            requests: RefCell::default(),
            console: RefCell::default(),
            downloads,
        };
        page.prepare();
        // What the browser itself asked for while starting is not the page's doing.
        page.read_logs();
        page.requests.take();
        page.console.take();
        page.go();
        page
    }

    /// Opens a text as a page; for checking the checks.
    pub fn open_text(view: View, text: &str) -> Page {
        let path = scratch("page").with_extension("html");
        fs::write(&path, text).expect("a scratch file");
        Page::open_file(view, &path)
    }

    /// Changes the window and the reader's settings.
    pub fn resize(&mut self, view: View) {
        self.view = view;
        self.prepare();
    }

    /// Loads the page again in the same tab.
    pub fn reload(&self) {
        self.go();
        self.await_start();
    }

    /// Closes the tab and opens the page in a new one of the same browser profile.
    pub fn reopen(&self) {
        let client = self.session.client();
        self.session.wait(async {
            let old = client.window().await?;
            let new = client.new_tab().await?;
            client.switch_to_window(old).await?;
            client.close_window().await?;
            client.switch_to_window(new).await
        });
        self.prepare();
        self.reload();
    }

    /// Loads the page with a text after the `#` of its address.
    pub fn open_link(&self, fragment: &str) {
        let client = self.session.client();
        // From a blank page, or the browser would only scroll.
        self.session.wait(client.goto("about:blank"));
        self.session.wait(client.goto(format!("{}#{fragment}", self.address)));
        self.await_start();
    }

    fn go(&self) {
        self.session.wait(self.session.client().goto(&self.address));
    }

    /// Puts window, settings and network in place for the current tab.
    fn prepare(&self) {
        let View { width, height, dark, still } = self.view;
        let command = |method, parameters| self.session.command(method, parameters);
        command(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false }),
        );
        command(
            "Emulation.setEmulatedMedia",
            json!({ "features": [
                { "name": "prefers-color-scheme", "value": if dark { "dark" } else { "light" } },
                { "name": "prefers-reduced-motion", "value": if still { "reduce" } else { "no-preference" } },
            ]}),
        );
        command("Network.enable", json!({}));
        command(
            "Network.emulateNetworkConditions",
            json!({ "offline": true, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 }),
        );
        command("Browser.setDownloadBehavior", json!({ "behavior": "allow", "downloadPath": self.downloads }));
    }

    #[track_caller]
    fn await_start(&self) {
        let begun = Instant::now();
        loop {
            let notice = self.script("return document.getElementById('notice')?.textContent ?? ''", &[]);
            match notice.as_str() {
                Some("") => return,
                notice if begun.elapsed() > PATIENCE => panic!("the page does not start: {notice:?}"),
                _ => sleep(Duration::from_millis(20)),
            }
        }
    }

    /// Runs script in the page; `arguments` holds what is given.
    #[track_caller]
    pub fn script(&self, text: &str, arguments: &[Value]) -> Value {
        let answer = self.session.client().execute(text, arguments.to_vec());
        self.session.wait(answer).json().clone()
    }

    /// Runs script that ends by calling its last argument.
    #[track_caller]
    pub fn script_later(&self, text: &str, arguments: &[Value]) -> Value {
        let answer = self.session.client().execute_async(text, arguments.to_vec());
        self.session.wait(answer).json().clone()
    }

    /// All parts of a role, in the order a screen reader meets them; `aria-hidden` ones are not there.
    #[track_caller]
    pub fn all(&self, role: &str) -> Vec<Part<'_>> {
        Part::with_role(self, role)
    }

    /// The one part of this role and exactly this name; waits for it to appear.
    #[track_caller]
    pub fn find(&self, role: &str, name: &str) -> Part<'_> {
        self.find_where(role, name, |its| its == name)
    }

    /// The one part of this role whose name contains a text; waits for it to appear.
    #[track_caller]
    pub fn find_containing(&self, role: &str, text: &str) -> Part<'_> {
        self.find_where(role, text, |its| its.contains(text))
    }

    /// Whether there is a part of this role and exactly this name at this moment.
    #[track_caller]
    pub fn has(&self, role: &str, name: &str) -> bool {
        self.all(role).iter().any(|part| part.name() == name)
    }

    #[track_caller]
    fn find_where(&self, role: &str, wanted: &str, fits: impl Fn(&str) -> bool) -> Part<'_> {
        let begun = Instant::now();
        loop {
            let all = self.all(role);
            let names: Vec<String> = all.iter().map(|part| part.name().to_string()).collect();
            let mut fitting: Vec<Part> = all.into_iter().filter(|part| fits(part.name())).collect();
            match fitting.len() {
                1 => return fitting.remove(0),
                n if begun.elapsed() > PATIENCE => {
                    panic!("{n} parts with role {role} and name {wanted:?}; of that role there are {names:?}")
                }
                _ => sleep(Duration::from_millis(30)),
            }
        }
    }

    /// Waits until something holds.
    #[track_caller]
    pub fn until(&self, what: &str, holds: impl Fn(&Page) -> bool) {
        let begun = Instant::now();
        while !holds(self) {
            assert!(begun.elapsed() < PATIENCE, "it does not come about that {what}");
            sleep(Duration::from_millis(30));
        }
    }

    /// Everything a reader sees, as text.
    #[track_caller]
    pub fn text(&self) -> String {
        let text = self.script("return document.body.innerText", &[]);
        text.as_str().unwrap_or_default().to_string()
    }

    /// Turns to a sheet through the page's own navigation.
    #[track_caller]
    pub fn turn_to(&self, sheet: &str) {
        let parts = ["tab", "link", "button"].map(|role| self.all(role));
        let part = parts.iter().flatten().find(|part| part.name().contains(sheet));
        part.unwrap_or_else(|| panic!("nothing leads to the sheet {sheet}")).click();
    }

    /// Presses a key where the focus is: `Tab`, `PageDown`, `ctrl+z`, `ctrl+shift+z`, `ArrowRight`.
    #[track_caller]
    pub fn press(&self, keys: &str) {
        let keys: Vec<char> = keys.split('+').map(key).collect();
        let mut chain = self.session.client().action_chain();
        for &key in &keys {
            chain = chain.key_down(key);
        }
        for &key in keys.iter().rev() {
            chain = chain.key_up(key);
        }
        self.session.wait(chain.perform());
    }

    /// Types a text where the focus is.
    #[track_caller]
    pub fn type_text(&self, text: &str) {
        self.session.wait(self.session.client().action_chain().send_keys(text).perform());
    }

    /// Role and name of the part that has the focus, as `role name`; empty when none has.
    #[track_caller]
    pub fn focused(&self) -> String {
        Part::focused(self).map(|part| format!("{} {}", part.role(), part.name())).unwrap_or_default()
    }

    /// Chooses a file in the page's file field, whether or not the field is drawn.
    #[track_caller]
    pub fn choose_file(&self, path: &Path) {
        let field = self.session.wait(self.session.client().find(By::Css("input[type=file]")));
        self.session.wait(field.send_keys(path.display().to_string()));
    }

    /// Drops a file of this name and content on the middle of the page.
    #[track_caller]
    pub fn drop_file(&self, name: &str, content: &str) {
        self.script(
            "const data = new DataTransfer();
             data.items.add(new File([arguments[1]], arguments[0]));
             const at = document.elementFromPoint(innerWidth / 2, innerHeight / 2);
             for (const type of ['dragenter', 'dragover', 'drop']) {
               at.dispatchEvent(new DragEvent(type, { bubbles: true, cancelable: true, dataTransfer: data }));
             }",
            &[json!(name), json!(content)],
        );
    }

    /// Pastes a text where the focus is, as the system's clipboard would.
    #[track_caller]
    pub fn paste(&self, content: &str) {
        self.script(
            "const data = new DataTransfer();
             data.setData('text/plain', arguments[0]);
             const at = document.activeElement ?? document.body;
             at.dispatchEvent(new ClipboardEvent('paste', { bubbles: true, cancelable: true, clipboardData: data }));",
            &[json!(content)],
        );
    }

    /// The content of a file the page saved under this name; waits for it.
    #[track_caller]
    pub fn saved(&self, name: &str) -> Vec<u8> {
        let path = self.downloads.join(name);
        self.until(&format!("a file {name} is saved"), |_| path.exists());
        fs::read(&path).expect("a saved file")
    }

    /// Addresses the page asked for, beside its own file and what it carries itself.
    pub fn requests(&self) -> Vec<String> {
        self.read_logs();
        self.requests.take()
    }

    /// Lines the page, or the browser about the page, wrote to the console since last asked.
    pub fn console(&self) -> Vec<String> {
        self.read_logs();
        self.console.take()
    }

    fn read_logs(&self) {
        let client = self.session.client();
        for entry in self.session.attempt(client.get_log("performance")).unwrap_or_default() {
            let event: Value = serde_json::from_str(&entry.message).unwrap_or_default();
            let message = &event["message"];
            let address = message["params"]["request"]["url"].as_str().unwrap_or_default();
            let own = address.split('#').next() == Some(&self.address);
            let carried = ["data:", "blob:", "about:"].iter().any(|scheme| address.starts_with(scheme));
            if message["method"] == "Network.requestWillBeSent" && !own && !carried {
                self.requests.borrow_mut().push(address.to_string());
            }
        }
        for entry in self.session.attempt(client.get_log("browser")).unwrap_or_default() {
            self.console.borrow_mut().push(format!("{} {}", entry.level, entry.message));
        }
    }

    /// Writes a picture of the whole page, below the window's edge too, and gives its path.
    #[track_caller]
    pub fn picture(&self, name: &str) -> PathBuf {
        let size = &self.session.command("Page.getLayoutMetrics", json!({}))["cssContentSize"];
        let height = size["height"].as_f64().unwrap_or_default().max(f64::from(self.view.height));
        let picture = self.session.command(
            "Page.captureScreenshot",
            json!({
                "captureBeyondViewport": true,
                "clip": { "x": 0, "y": 0, "width": self.view.width, "height": height, "scale": 1 },
            }),
        );
        write_picture(&format!("{name}.png"), &picture["data"])
    }

    /// Writes a picture of what the window shows and gives its path.
    #[track_caller]
    pub fn picture_of_window(&self, name: &str) -> PathBuf {
        let picture = self.session.command("Page.captureScreenshot", json!({}));
        write_picture(&format!("{name}.png"), &picture["data"])
    }

    /// Prints to PDF on paper of this size in millimetres; writes it beside the pictures.
    #[track_caller]
    pub fn print(&self, name: &str, width_mm: f64, height_mm: f64) -> Printed {
        const MM_PER_INCH: f64 = 25.4;
        let document = self.session.command(
            "Page.printToPDF",
            json!({
                "paperWidth": width_mm / MM_PER_INCH,
                "paperHeight": height_mm / MM_PER_INCH,
                "printBackground": true,
                "preferCSSPageSize": false,
            }),
        );
        let path = write_picture(&format!("{name}.pdf"), &document["data"]);
        let document = lopdf::Document::load(&path).expect("the printed file");
        let text = |page: u32| document.extract_text(&[page]).expect("a page with text");
        let pages =
            document.get_pages().into_keys().map(|page| text(page).split_whitespace().collect::<Vec<_>>().join(" "));
        Printed { pages: pages.collect(), path }
    }
}

/// A printed page.
#[derive(Debug)]
pub struct Printed {
    /// Where the PDF lies.
    pub path: PathBuf,
    /// The text of each page.
    pub pages: Vec<String>,
}

impl Drop for Page {
    fn drop(&mut self) {
        if !std::thread::panicking() {
            assert_eq!(self.requests(), Vec::<String>::new(), "the page made requests");
            assert_eq!(self.console(), Vec::<String>::new(), "the console is not empty");
        }
    }
}

/// The page as `cargo xtask build` writes it.
pub fn built() -> PathBuf {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    tests.parent().unwrap_or(tests).join("dist/sisterframe.html")
}

/// Cargo's target directory.
pub fn target() -> &'static Path {
    let scratch = Path::new(env!("CARGO_TARGET_TMPDIR"));
    scratch.parent().unwrap_or(scratch)
}

/// A path for a file or folder of one test.
pub fn scratch(what: &str) -> PathBuf {
    let thread = std::thread::current();
    let test = thread.name().unwrap_or("test").replace("::", "-");
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{test}-{what}"))
}

fn write_picture(name: &str, data: &Value) -> PathBuf {
    let folder = target().join("pictures");
    let path = folder.join(name);
    let bytes = base64::engine::general_purpose::STANDARD.decode(data.as_str().unwrap_or_default());
    fs::create_dir_all(&folder).expect("a folder for pictures");
    fs::write(&path, bytes.expect("a picture in base64")).expect("a picture written");
    path
}

/// The driver's code for a key by its name in the HTML standard, or a plain character.
fn key(name: &str) -> char {
    let key = match name {
        "ctrl" => Key::Control,
        "shift" => Key::Shift,
        "alt" => Key::Alt,
        "meta" => Key::Meta,
        "Tab" => Key::Tab,
        "Enter" => Key::Enter,
        "Escape" => Key::Escape,
        "Space" => return ' ',
        "F2" => Key::F2,
        "F9" => Key::F9,
        "Backspace" => Key::Backspace,
        "Delete" => Key::Delete,
        "Home" => Key::Home,
        "End" => Key::End,
        "PageUp" => Key::PageUp,
        "PageDown" => Key::PageDown,
        "ArrowLeft" => Key::Left,
        "ArrowRight" => Key::Right,
        "ArrowUp" => Key::Up,
        "ArrowDown" => Key::Down,
        _ => {
            let mut letters = name.chars();
            match (letters.next(), letters.next()) {
                (Some(letter), None) => return letter,
                _ => panic!("no key is called {name}"),
            }
        }
    };
    key.value()
}
