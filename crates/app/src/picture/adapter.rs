//! Whether anything here can draw.

use bevy::render::settings::{Backends, WgpuSettings};

/// What would draw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Adapter {
    /// Its name.
    pub name: String,
    /// Whether it is a processor drawing in software.
    pub in_software: bool,
}

/// The adapter Bevy would draw with, or none. Bevy itself ends the process where it
/// finds none; asking first lets the program say so in its own words.
#[must_use]
pub fn find_adapter() -> Option<Adapter> {
    let settings = WgpuSettings::default();
    let backends = settings.backends.unwrap_or(Backends::empty());
    if backends.is_empty() {
        return None;
    }
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor {
        backends,
        flags: settings.instance_flags,
        ..wgpu::InstanceDescriptor::new_without_display_handle()
    });
    let request = instance.request_adapter(&wgpu::RequestAdapterOptions {
        power_preference: settings.power_preference,
        force_fallback_adapter: settings.force_fallback_adapter,
        compatible_surface: None,
    });
    let adapter = bevy::tasks::block_on(request).ok()?;
    let info = adapter.get_info();
    Some(Adapter { in_software: info.device_type == wgpu::DeviceType::Cpu, name: info.name })
}
