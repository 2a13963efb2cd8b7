//! Whether anything here can draw, and what.

use bevy::render::settings::{Backends, RenderCreation, WgpuSettings, WgpuSettingsPriority};

/// What draws.
#[derive(Clone)]
pub struct Adapter {
    /// Its name.
    pub name: String,
    /// Whether it is a processor drawing in software.
    pub in_software: bool,
    /// What the renderer is told, so that it takes this adapter.
    settings: WgpuSettings,
}

impl std::fmt::Debug for Adapter {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Adapter")
            .field("name", &self.name)
            .field("in_software", &self.in_software)
            .finish_non_exhaustive()
    }
}

impl Adapter {
    /// How the renderer is set up with this adapter.
    #[must_use]
    pub fn render_creation(&self) -> RenderCreation {
        self.settings.clone().into()
    }
}

/// Why nothing here can draw: the adapters that are there and yet give no device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoDriver {
    /// Name of each, and why it gives no device.
    pub refused: Vec<(String, String)>,
}

impl std::fmt::Display for NoDriver {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.refused.is_empty() {
            return f.write_str("no graphics driver found, not even one that draws in software");
        }
        f.write_str("no graphics driver works")?;
        for (n, (name, why)) in self.refused.iter().enumerate() {
            f.write_str(if n == 0 { ": " } else { "; " })?;
            write!(f, "{name} gives no device ({})", why.trim_end_matches('.'))?;
        }
        Ok(())
    }
}

impl std::error::Error for NoDriver {}

/// A way to ask for an adapter.
struct Request {
    settings: WgpuSettings,
}

/// The ways to ask, the usual one first: then every kind of driver by itself, then each kind's own drawing in
/// software.
fn requests(usual: &WgpuSettings) -> Vec<Request> {
    let Some(all) = usual.backends.filter(|all| !all.is_empty()) else { return Vec::new() };
    let mut requests = vec![Request { settings: usual.clone() }];
    for in_software in [false, true] {
        for backend in [Backends::VULKAN, Backends::METAL, Backends::DX12, Backends::GL] {
            if all.contains(backend) {
                let mut settings = usual.clone();
                settings.backends = Some(backend);
                settings.force_fallback_adapter |= in_software;
                requests.push(Request { settings });
            }
        }
    }
    requests
}

/// What came of a way to ask.
enum Answer {
    /// No adapter of this kind.
    Nothing,
    /// An adapter, its name and whether it draws in software, and its device or why it gives none.
    Adapter(String, bool, Result<(), String>),
}

/// The first way to ask that leads to a device.
fn first_that_works(
    requests: Vec<Request>,
    mut ask: impl FnMut(&WgpuSettings) -> Answer,
) -> Result<Adapter, NoDriver> {
    let mut refused: Vec<(String, String)> = Vec::new();
    for Request { settings } in requests {
        match ask(&settings) {
            Answer::Nothing => {}
            Answer::Adapter(name, in_software, Ok(())) => return Ok(Adapter { name, in_software, settings }),
            Answer::Adapter(name, _, Err(why)) => {
                if !refused.iter().any(|(known, _)| *known == name) {
                    refused.push((name, why));
                }
            }
        }
    }
    Err(NoDriver { refused })
}

/// The adapter to draw with. The renderer itself ends the process where it finds none, or one that gives no
/// device; asking first lets the program take another, or say so in its own words.
///
/// # Errors
/// None is there, or none of those that are there gives a device.
pub fn find_adapter() -> Result<Adapter, NoDriver> {
    first_that_works(requests(&WgpuSettings::default()), ask)
}

/// Asks the system for an adapter and a device as the renderer will.
fn ask(settings: &WgpuSettings) -> Answer {
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor {
        backends: settings.backends.unwrap_or(Backends::empty()),
        flags: settings.instance_flags,
        ..wgpu::InstanceDescriptor::new_without_display_handle()
    });
    let request = instance.request_adapter(&wgpu::RequestAdapterOptions {
        power_preference: settings.power_preference,
        force_fallback_adapter: settings.force_fallback_adapter,
        compatible_surface: None,
    });
    let Ok(adapter) = bevy::tasks::block_on(request) else { return Answer::Nothing };
    let info = adapter.get_info();
    let in_software = info.device_type == wgpu::DeviceType::Cpu;
    let (mut features, mut limits) = (settings.features, settings.limits.clone());
    if matches!(settings.priority, WgpuSettingsPriority::Functionality) {
        // What is experimental wants a promise that is not needed to learn whether there is a device.
        features |= adapter.features() - wgpu::Features::all_experimental_mask();
        if info.device_type == wgpu::DeviceType::DiscreteGpu {
            features.remove(wgpu::Features::MAPPABLE_PRIMARY_BUFFERS);
        }
        limits = adapter.limits();
    }
    let device = adapter.request_device(&wgpu::DeviceDescriptor {
        required_features: features,
        required_limits: limits,
        memory_hints: settings.memory_hints.clone(),
        ..wgpu::DeviceDescriptor::default()
    });
    let device = bevy::tasks::block_on(device).map(|_| ()).map_err(|error| error.to_string());
    Answer::Adapter(format!("{} ({})", info.name, info.backend), in_software, device)
}

#[cfg(test)]
mod tests {
    use super::{Answer, NoDriver, first_that_works, requests};
    use bevy::render::settings::{Backends, WgpuSettings};

    fn usual() -> WgpuSettings {
        let backends = Some(Backends::VULKAN | Backends::DX12 | Backends::GL);
        WgpuSettings { backends, ..WgpuSettings::default() }
    }

    #[test]
    fn an_adapter_that_gives_no_device_is_passed_over_for_the_next() {
        let found = first_that_works(requests(&usual()), |settings| match settings.backends {
            Some(Backends::VULKAN) => Answer::Nothing,
            Some(Backends::GL) => Answer::Adapter("Plain".into(), true, Ok(())),
            _ => Answer::Adapter("Odd".into(), false, Err("device creation failed".into())),
        });
        let found = found.unwrap();
        assert_eq!((found.name.as_str(), found.in_software), ("Plain", true));
        assert_eq!(found.settings.backends, Some(Backends::GL), "the renderer is told to take this one");
    }

    #[test]
    fn the_usual_way_is_asked_first_and_is_enough() {
        let mut asked = 0;
        let found = first_that_works(requests(&usual()), |_| {
            asked += 1;
            Answer::Adapter("Usual".into(), false, Ok(()))
        });
        assert_eq!((found.unwrap().settings.backends, asked), (usual().backends, 1));
    }

    #[test]
    fn software_is_asked_for_where_the_card_gives_no_device() {
        let found = first_that_works(requests(&usual()), |settings| {
            if settings.force_fallback_adapter {
                Answer::Adapter("Software".into(), true, Ok(()))
            } else {
                Answer::Adapter("Card".into(), false, Err("out of memory".into()))
            }
        });
        let found = found.unwrap();
        assert!(found.in_software && found.settings.force_fallback_adapter);
    }

    #[test]
    fn where_none_gives_a_device_each_is_named_once_with_its_reason() {
        let none = first_that_works(requests(&usual()), |settings| match settings.backends {
            Some(Backends::GL) => Answer::Nothing,
            _ => Answer::Adapter("Odd (dx12)".into(), false, Err("the driver is too old.".into())),
        });
        let none = none.unwrap_err();
        assert_eq!(
            none.to_string(),
            "no graphics driver works: Odd (dx12) gives no device (the driver is too old)"
        );
        assert_eq!(none.refused.len(), 1);
        let mut nowhere = usual();
        nowhere.backends = None;
        let none = first_that_works(requests(&nowhere), |_| Answer::Nothing).unwrap_err();
        assert_eq!(none, NoDriver { refused: Vec::new() });
        assert_eq!(none.to_string(), "no graphics driver found, not even one that draws in software");
    }
}
