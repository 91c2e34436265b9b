// Wood on the stage: plain ply and lumber, or a map of how near to its limit it is bent.
//
// uv.x carries the share of the limit (0 unbent, 1 at the limit); uv.y distance from the
// panel's lower edge as a share, for the plank edges.

#import bevy_pbr::{
    pbr_fragment::pbr_input_from_standard_material,
    pbr_functions::{alpha_discard, apply_pbr_lighting, main_pass_post_lighting_processing},
    forward_io::{VertexOutput, FragmentOutput},
}

struct Wood {
    // x: 1 shows the map; y: strength of the grain; z: 1 lit up as selected; w: 1 on dark ground.
    look: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(100) var<uniform> wood: Wood;

// A sequential map, light for little and dark for much, evenly spaced in lightness and
// legible in the common colour deficiencies: straw, ochre, rust, plum, ink.
fn map_colour(share: f32) -> vec3<f32> {
    let stops = array<vec3<f32>, 6>(
        vec3<f32>(0.905, 0.860, 0.690),
        vec3<f32>(0.815, 0.640, 0.330),
        vec3<f32>(0.620, 0.350, 0.130),
        vec3<f32>(0.400, 0.130, 0.130),
        vec3<f32>(0.205, 0.045, 0.140),
        vec3<f32>(0.070, 0.020, 0.080),
    );
    let x = clamp(share / 1.5, 0.0, 1.0) * 5.0;
    let i = u32(min(floor(x), 4.0));
    return mix(stops[i], stops[i + 1u], x - f32(i));
}

// 1 on a line where `value` crosses `level`, about 1.5 pixels wide.
fn isoline(value: f32, level: f32) -> f32 {
    let width = fwidth(value) * 1.2 + 1e-6;
    return 1.0 - smoothstep(0.0, 1.0, abs(value - level) / width);
}

@fragment
fn fragment(in: VertexOutput, @builtin(front_facing) is_front: bool) -> FragmentOutput {
    var pbr_input = pbr_input_from_standard_material(in, is_front);
    var colour = pbr_input.material.base_color.rgb;

#ifdef VERTEX_UVS_A
    // Face grain: long, faint, uneven streaks along the boat.
    let p = in.world_position.xyz;
    let across = in.uv.y * 37.0 + p.y * 9.0;
    let streak = sin(across * 6.0 + 0.8 * sin(p.x * 2.1)) * 0.5 + sin(across * 17.0 + p.x * 0.7) * 0.3;
    colour = colour * (1.0 + wood.look.y * 0.05 * streak);

    if (wood.look.x > 0.5) {
        let share = in.uv.x;
        let mapped = map_colour(share);
        colour = mapped;
        var line = 0.35 * isoline(share, 0.25);
        line = max(line, 0.6 * isoline(share, 0.5));
        line = max(line, isoline(share, 1.0));
        // Isolines stand out on light and on dark parts of the map.
        let ink = select(vec3<f32>(0.02, 0.03, 0.04), vec3<f32>(1.0, 0.98, 0.92), share > 0.75);
        colour = mix(colour, ink, line);
    }
#endif
    if (wood.look.z > 0.5) {
        colour = mix(colour, vec3<f32>(0.10, 0.36, 0.64), 0.35);
    }

    pbr_input.material.base_color = vec4<f32>(colour, pbr_input.material.base_color.a);
    pbr_input.material.base_color = alpha_discard(pbr_input.material, pbr_input.material.base_color);
    var out: FragmentOutput;
    out.color = apply_pbr_lighting(pbr_input);
    out.color = main_pass_post_lighting_processing(pbr_input, out.color);
    return out;
}
