// Wood on the stage: ply, lumber and paint; a map of how near to its limit it is bent;
// fairness stripes; what is under water; what a section plane leaves.
//
// uv.x carries the share of the limit (0 unbent, 1 at the limit). uv.y says where on the
// plank: 0 to 1 across the outer face, -2 to -1 across the inner, 3 on a sawn edge.

#import bevy_pbr::{
    pbr_fragment::pbr_input_from_standard_material,
    pbr_functions::{alpha_discard, apply_pbr_lighting, main_pass_post_lighting_processing},
    forward_io::{VertexOutput, FragmentOutput},
    mesh_view_bindings::view,
}

struct Wood {
    // x: 0 plain, 1 the map, 2 stripes; y: strength of the grain; z: 1 lit up; w: 1 on dark ground.
    look: vec4<f32>,
    // rgb: paint of the outer face, linear; w: 1 painted.
    paint: vec4<f32>,
    // x: 1 cut away what lies forward of y (m); z: 1 without the port half.
    away: vec4<f32>,
    // x: 1 there is water up to y (m).
    water: vec4<f32>,
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

// Edges of the planks: a line along the seam, about two pixels wide.
fn seam(across: f32) -> f32 {
    let width = fwidth(across) * 1.6 + 1e-6;
    return 1.0 - smoothstep(0.0, 1.0, min(across, 1.0 - across) / width);
}

// Stripes by where the surface would mirror a row of lamps along the shed: on a fair skin
// they run on without a kink, and the eye sees a tenth of a degree.
fn stripes(normal: vec3<f32>, world: vec3<f32>) -> f32 {
    let parallel_eye = view.clip_from_view[3].w == 1.0;
    let to_eye = select(
        normalize(view.world_position - world),
        normalize(view.world_from_view[2].xyz),
        parallel_eye,
    );
    let mirrored = reflect(-to_eye, normal);
    let angle = atan2(mirrored.y, length(mirrored.xz) * 0.6 + abs(mirrored.z)) * 44.0;
    let width = fwidth(angle) + 1e-4;
    let wave = abs(fract(angle / 3.14159265) - 0.5) - 0.25;
    return smoothstep(-1.0, 1.0, wave * 3.14159265 / width);
}

@fragment
fn fragment(in: VertexOutput, @builtin(front_facing) is_front: bool) -> FragmentOutput {
    let p = in.world_position.xyz;
    var pbr_input = pbr_input_from_standard_material(in, is_front);
    var colour = pbr_input.material.base_color.rgb;

#ifdef VERTEX_UVS_A
    let outer = in.uv.y >= 0.0 && in.uv.y <= 1.0;
    let sawn = in.uv.y > 2.0;
    let across = select(in.uv.y + 2.0, in.uv.y, outer);
    let seam_line = seam(across);
    let share = in.uv.x;
    let lines = vec3<f32>(isoline(share, 0.25), isoline(share, 0.5), isoline(share, 1.0));
    let stripe = stripes(normalize(in.world_normal), p);
    let p_width = fwidth(p.y);

    // Face grain: long, faint, uneven streaks along the boat.
    let over = across * 37.0 + p.y * 9.0;
    let streak = sin(over * 6.0 + 0.8 * sin(p.x * 2.1)) * 0.5 + sin(over * 17.0 + p.x * 0.7) * 0.3;
    colour = colour * (1.0 + wood.look.y * 0.05 * streak);
    if (!outer && !sawn) {
        // The inside is paler: it sees less weather.
        colour = mix(colour, vec3<f32>(1.0, 0.96, 0.88), 0.16);
    }
    if (wood.paint.w > 0.5 && outer) {
        colour = wood.paint.rgb;
        pbr_input.material.perceptual_roughness = 0.42;
    }
    if (sawn) {
        colour = colour * 0.72;
    }
    if (wood.look.x > 0.5 && wood.look.x < 1.5) {
        colour = map_colour(share);
        let line = max(max(0.35 * lines.x, 0.6 * lines.y), lines.z);
        // Isolines stand out on light and on dark parts of the map.
        let ink = select(vec3<f32>(0.02, 0.03, 0.04), vec3<f32>(1.0, 0.98, 0.92), share > 0.75);
        colour = mix(colour, ink, line);
    } else if (wood.look.x > 1.5 && outer) {
        colour = mix(vec3<f32>(0.045, 0.055, 0.065), vec3<f32>(0.93, 0.90, 0.82), stripe);
    }
    if (!sawn) {
        colour = mix(colour, colour * 0.35, 0.75 * seam_line);
    }
    // Wet outside: a sound boat is dry within.
    if (wood.water.x > 0.5 && outer) {
        let depth = wood.water.y - p.y;
        let line_width = p_width * 1.4 + 0.0015;
        if (depth > 0.0) {
            colour = mix(colour, vec3<f32>(0.10, 0.30, 0.36), clamp(0.42 + depth * 0.8, 0.0, 0.72));
        }
        let bright = 1.0 - smoothstep(0.0, 1.0, abs(depth) / line_width);
        colour = mix(colour, vec3<f32>(0.92, 0.99, 1.0), bright);
    }
#endif
    if (wood.look.z > 0.5) {
        let strength = select(0.35, 0.16, wood.look.x > 0.5);
        colour = mix(colour, vec3<f32>(0.10, 0.36, 0.64), strength);
    }

    // Away with it: after all that needs its neighbours' values.
    if (wood.away.x > 0.5 && p.x < wood.away.y) {
        discard;
    }
    if (wood.away.z > 0.5 && p.z > 0.0005) {
        discard;
    }

    pbr_input.material.base_color = vec4<f32>(colour, pbr_input.material.base_color.a);
    pbr_input.material.base_color = alpha_discard(pbr_input.material, pbr_input.material.base_color);
    var out: FragmentOutput;
    out.color = apply_pbr_lighting(pbr_input);
    if (wood.look.x > 0.5 && wood.look.x < 1.5) {
        // A value is read off its colour: light and shade only hint at the form.
        out.color = vec4<f32>(mix(out.color.rgb, colour, 0.65), out.color.a);
    }
    if (!is_front) {
        // The back of a face is only seen where the wood is sawn through: show the saw cut.
        let cut = select(vec3<f32>(0.34, 0.20, 0.09), vec3<f32>(0.62, 0.42, 0.22), wood.look.w > 0.5);
        out.color = vec4<f32>(cut, 1.0);
    }
    out.color = main_pass_post_lighting_processing(pbr_input, out.color);
    return out;
}
