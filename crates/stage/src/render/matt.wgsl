// Colour times light: the light from everywhere, and of each lamp what falls on a surface turned that way.
#import bevy_pbr::forward_io::VertexOutput

struct Look {
    colour: vec4<f32>,
    // Toward each lamp, as long as the share of white that it brings.
    lights: array<vec4<f32>, 5>,
    soft: f32,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> look: Look;

@fragment
fn fragment(in: VertexOutput) -> @location(0) vec4<f32> {
    let normal = normalize(in.world_normal);
    var light = look.soft;
    for (var n = 0u; n < 5u; n++) {
        light += max(dot(look.lights[n].xyz, normal), 0.0);
    }
    return vec4(look.colour.rgb * light, look.colour.a);
}
