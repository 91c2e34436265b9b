//! Whether anything can be shown here, found out before the engine is started: the engine
//! itself would panic.

use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};

use crate::screen::NoScreen;

/// Whether there is a display server to open a window on.
///
/// # Errors
/// One line naming what is missing.
pub fn display() -> Result<(), NoScreen> {
    if !cfg!(all(unix, not(target_os = "macos"))) {
        return Ok(());
    }
    let set = |name: &str| std::env::var(name).ok().filter(|v| !v.is_empty());
    if set("WAYLAND_DISPLAY").is_some() || set("WAYLAND_SOCKET").is_some() {
        return Ok(());
    }
    let Some(display) = set("DISPLAY") else {
        return Err(NoScreen(
            "there is no display here (neither DISPLAY nor WAYLAND_DISPLAY is set)".into(),
        ));
    };
    x11_answers(&display)
}

/// A local display `:N` must have a socket that can be connected to; others are believed.
#[cfg(unix)]
fn x11_answers(display: &str) -> Result<(), NoScreen> {
    let Some(number) = display.strip_prefix(':').and_then(|d| d.split('.').next()) else {
        return Ok(());
    };
    // The server listens on a path, on the same name without a file, or both.
    let path = format!("/tmp/.X11-unix/X{number}");
    let connects = std::os::unix::net::UnixStream::connect(&path).is_ok() || abstract_socket(&path);
    if connects {
        Ok(())
    } else {
        Err(NoScreen(format!("no display server answers at DISPLAY={display}")))
    }
}

#[cfg(target_os = "linux")]
fn abstract_socket(path: &str) -> bool {
    use std::os::linux::net::SocketAddrExt;
    use std::os::unix::net::{SocketAddr, UnixStream};
    SocketAddr::from_abstract_name(path).is_ok_and(|a| UnixStream::connect_addr(&a).is_ok())
}

#[cfg(all(unix, not(target_os = "linux")))]
fn abstract_socket(_path: &str) -> bool {
    false
}

#[cfg(not(unix))]
fn x11_answers(_display: &str) -> Result<(), NoScreen> {
    Ok(())
}

/// Whether a graphics driver offers an adapter.
///
/// # Errors
/// One line saying that none does.
pub fn graphics() -> Result<(), NoScreen> {
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor::new_without_display_handle());
    // The modern drivers first: asking for OpenGL makes some systems print warnings.
    let found = [wgpu::Backends::PRIMARY, wgpu::Backends::SECONDARY]
        .into_iter()
        .any(|backends| !bevy::tasks::block_on(instance.enumerate_adapters(backends)).is_empty());
    if found {
        Ok(())
    } else {
        Err(NoScreen(
            "there is no graphics driver here (no Vulkan, Metal, DirectX or OpenGL adapter)".into(),
        ))
    }
}

/// Runs `work`; a panic inside the engine becomes one line instead of a trace.
///
/// # Errors
/// The panic's message.
pub fn quietly(work: impl FnOnce()) -> Result<(), NoScreen> {
    let before = take_hook();
    let message = std::sync::Arc::new(std::sync::Mutex::new(String::new()));
    let seen = message.clone();
    set_hook(Box::new(move |info| {
        if let Ok(mut text) = seen.lock()
            && text.is_empty()
        {
            *text = info.to_string().lines().collect::<Vec<_>>().join(" ");
        }
    }));
    let outcome = catch_unwind(AssertUnwindSafe(work));
    set_hook(before);
    outcome.map_err(|_| {
        let text = message.lock().map(|t| t.clone()).unwrap_or_default();
        NoScreen(format!("the window could not be kept open ({text})"))
    })
}
