//! What needs a window or a graphics driver, asked of whoever has one.

use std::fmt;
use std::path::PathBuf;
use wheelpath_geometry::{Car, CarPose, Reading, WheelPosition};
use wheelpath_project::LoadedCar;

/// Opens windows and draws pictures.
pub trait Frontend {
    /// Opens the window on a car and returns when it is closed.
    ///
    /// # Errors
    /// There can be no window here.
    fn open(&self, car: LoadedCar) -> Result<(), NoWindow>;

    /// Draws a picture into a PNG file.
    ///
    /// # Errors
    /// Nothing here can draw, or the file cannot be written.
    fn picture(&self, request: &PictureRequest) -> Result<(), NoPicture>;
}

/// Why there is no window.
#[derive(Clone, Debug, PartialEq)]
pub struct NoWindow {
    /// Why, as the rest of a sentence: "no display answers".
    pub why: String,
    /// What to install or do.
    pub remedy: String,
}

impl fmt::Display for NoWindow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no window: {}; {}", self.why, self.remedy)
    }
}

impl NoWindow {
    /// No display to open a window on.
    #[must_use]
    pub fn no_display() -> Self {
        NoWindow {
            why: "no display answers".into(),
            remedy: "start it in a desktop session, or on Debian `apt install xvfb mesa-vulkan-drivers` and \
                     run `xvfb-run wheelpath`; the other commands need no window: `wheelpath help` names them"
                .into(),
        }
    }

    /// No driver that can draw.
    #[must_use]
    pub fn no_graphics() -> Self {
        NoWindow {
            why: "no graphics driver can draw it".into(),
            remedy:
                "install the card's Vulkan driver, or on Debian `apt install mesa-vulkan-drivers` to draw \
                     in software; the other commands need no driver: `wheelpath help` names them"
                    .into(),
        }
    }
}

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq)]
pub struct NoPicture {
    /// Why, as a sentence.
    pub why: String,
    /// What to install or do.
    pub remedy: String,
}

/// A picture to draw.
#[derive(Clone, Debug)]
pub struct PictureRequest {
    /// The car.
    pub car: LoadedCar,
    /// Its pose.
    pub pose: CarPose,
    /// The car before proposals were made on it, and its pose; drawn behind the car, as what it was.
    pub before: Option<(Car, CarPose)>,
    /// The PNG file to write.
    pub file: PathBuf,
    /// From where.
    pub view: View,
    /// On which paper.
    pub sheet: Sheet,
    /// Width and height in pixels.
    pub size: [u32; 2],
    /// Which dimensions are drawn over the car.
    pub overlays: Overlays,
}

/// From where a picture is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// From ahead, orthographic.
    Front,
    /// From the left, orthographic.
    Side,
    /// From above, orthographic.
    Plan,
    /// From ahead, left and above.
    ThreeQuarter,
    /// One corner, close up.
    Corner(WheelPosition),
}

/// The paper of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheet {
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
}

/// Which overlays are drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum Overlays {
    /// All that belong to the view.
    All,
    /// None.
    Nothing,
    /// Those that show these readings.
    Of(Vec<&'static Reading>),
}

/// The front of an executable that was built without the window.
#[derive(Clone, Copy, Debug, Default)]
pub struct WithoutWindow;

const BUILT_WITHOUT: &str = "this wheelpath was built without the window";
const BUILD_IT: &str = "build it with `cargo build --release`, without `--no-default-features`";

impl Frontend for WithoutWindow {
    fn open(&self, _: LoadedCar) -> Result<(), NoWindow> {
        Err(NoWindow { why: BUILT_WITHOUT.into(), remedy: BUILD_IT.into() })
    }

    fn picture(&self, _: &PictureRequest) -> Result<(), NoPicture> {
        Err(NoPicture { why: format!("no picture: {BUILT_WITHOUT}"), remedy: BUILD_IT.into() })
    }
}
