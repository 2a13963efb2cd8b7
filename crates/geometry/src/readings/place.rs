//! Where the contact and the wheel centre go.

use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

readings! {
    scope Wheel; group Place;
    values(corner: CornerMotion, wheel: OnGround) {
        let half_track = corner.sign() * wheel.contact.y;
    }

    "half_track", "Half track", Length,
    sign "+ outboard of the centre plane",
    "Distance of the contact point from the body's centre plane.",
    formula "side · P_y",
    source "ISO 8855 track, as recalled",
    absent ""
    => half_track;

    "half_track_change", "Half-track change", Length,
    sign "+ wider",
    "Half track minus its value at zero travel, straight ahead.",
    formula "side · (P_y - P_y at reference)",
    source "this program's definition",
    absent ""
    => half_track - corner.sign() * corner.reference.contact_y;

    "recession", "Wheelbase change", Length,
    sign "+ wheel moved rearward",
    "Rearward movement of the wheel centre from zero travel, straight ahead.",
    formula "W_x at reference - W_x",
    source "this program's definition",
    absent ""
    => corner.reference.wheel_centre.x - corner.wheel_centre.x;
}
