// The water that the hull is looked at in: a thin clear tint that fades out around her,
// a little stronger where one looks along it than where one looks down into it.

#import bevy_pbr::{
    forward_io::VertexOutput,
    mesh_view_bindings::view,
}

struct Water {
    // rgb: tint, linear; a: strength.
    tint: vec4<f32>,
    // Middle of the pool (x, z), half its length and half its width, m.
    pool: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> water: Water;

@fragment
fn fragment(in: VertexOutput) -> @location(0) vec4<f32> {
    let p = in.world_position.xyz;
    let off = (p.xz - water.pool.xy) / water.pool.zw;
    let fade = 1.0 - smoothstep(0.55, 1.0, length(off));
    let parallel_eye = view.clip_from_view[3].w == 1.0;
    let to_eye = select(
        normalize(view.world_position - p),
        normalize(view.world_from_view[2].xyz),
        parallel_eye,
    );
    let grazing = pow(1.0 - abs(to_eye.y), 3.0);
    return vec4<f32>(water.tint.rgb, fade * mix(water.tint.a, min(1.0, water.tint.a + 0.35), grazing));
}
