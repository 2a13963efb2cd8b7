//! Whether there is a display to open a window on: asked first, since the window library ends the
//! process where there is none. A name in the environment is not enough; the display must answer.

#[cfg(target_os = "linux")]
pub(super) use linux::is_there;

/// Elsewhere than on Linux a program that runs has a display.
#[cfg(not(target_os = "linux"))]
pub(super) fn is_there() -> bool {
    true
}

#[cfg(target_os = "linux")]
mod linux {
    use std::net::TcpStream;
    use std::os::linux::net::SocketAddrExt;
    use std::os::unix::net::{SocketAddr, UnixStream};
    use std::path::PathBuf;

    /// Ports of X displays begin here.
    const FIRST_PORT: u16 = 6000;

    pub(in crate::window) fn is_there() -> bool {
        let set = |name| std::env::var_os(name).filter(|value| !value.is_empty());
        if set("WAYLAND_SOCKET").is_some() {
            return true;
        }
        // Where both are named, the window library takes Wayland.
        if let Some(name) = set("WAYLAND_DISPLAY") {
            let name = PathBuf::from(name);
            let path = if name.is_absolute() {
                Some(name)
            } else {
                set("XDG_RUNTIME_DIR").map(|folder| PathBuf::from(folder).join(name))
            };
            return path.is_some_and(|path| UnixStream::connect(path).is_ok());
        }
        set("DISPLAY").is_some_and(|display| answers(&display.to_string_lossy()))
    }

    /// Whether an X display such as `:0`, `:0.1` or `host:10.0` answers.
    fn answers(display: &str) -> bool {
        let Some((host, rest)) = display.rsplit_once(':') else { return false };
        let Some(Ok(number)) = rest.split('.').next().map(str::parse::<u16>) else { return false };
        let Some(port) = FIRST_PORT.checked_add(number) else { return false };
        if !host.is_empty() && host != "unix" {
            return TcpStream::connect((host, port)).is_ok();
        }
        let path = format!("/tmp/.X11-unix/X{number}");
        let hidden = || SocketAddr::from_abstract_name(&path).and_then(|at| UnixStream::connect_addr(&at));
        UnixStream::connect(&path).is_ok()
            || hidden().is_ok()
            || TcpStream::connect(("localhost", port)).is_ok()
    }

    #[cfg(test)]
    mod tests {
        use super::answers;
        use std::net::TcpListener;

        #[test]
        fn a_display_that_does_not_answer_is_none() {
            for display in ["", "nonsense", ":", ":x", ":59999", ":70000", "localhost:59998.0"] {
                assert!(!answers(display), "{display:?}");
            }
        }

        #[test]
        fn a_display_that_answers_is_one() {
            let listener = TcpListener::bind(("127.0.0.1", 0)).unwrap();
            let port = listener.local_addr().unwrap().port();
            assert!(answers(&format!("127.0.0.1:{}.0", port - super::FIRST_PORT)));
        }
    }
}
