//! Our own material: ply and lumber, with a map of bending over it.

use std::path::{Path, PathBuf};

use bevy::asset::io::embedded::EmbeddedAssetRegistry;
use bevy::pbr::{ExtendedMaterial, MaterialExtension};
use bevy::prelude::*;
use bevy::render::render_resource::AsBindGroup;
use bevy::shader::ShaderRef;

/// A lit wood material with the map over it.
pub type WoodMaterial = ExtendedMaterial<StandardMaterial, Wood>;

/// How a piece looks.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct WoodLook {
    /// Show how near to the limit it is bent.
    pub map: bool,
    /// Strength of the face grain, 0 to 1.
    pub grain: f32,
    /// Lit up as selected.
    pub lit: bool,
    /// On dark ground.
    pub dark: bool,
}

/// The shader's uniform.
#[derive(Asset, AsBindGroup, Reflect, Debug, Clone)]
pub struct Wood {
    #[uniform(100)]
    look: Vec4,
}

impl Wood {
    /// The uniform of a look.
    pub fn new(look: WoodLook) -> Wood {
        let flag = |b: bool| if b { 1.0 } else { 0.0 };
        Wood { look: Vec4::new(flag(look.map), look.grain, flag(look.lit), flag(look.dark)) }
    }
}

/// Where the embedded shader is found.
const SHADER: &str = "embedded://chinewright/wood.wgsl";

impl MaterialExtension for Wood {
    fn fragment_shader() -> ShaderRef {
        SHADER.into()
    }
}

/// Registers the material and its shader, which is part of the program.
#[derive(Debug)]
pub struct WoodPlugin;

impl Plugin for WoodPlugin {
    fn build(&self, app: &mut App) {
        app.world_mut().resource_mut::<EmbeddedAssetRegistry>().insert_asset(
            PathBuf::from("shaders/wood.wgsl"),
            Path::new("chinewright/wood.wgsl"),
            include_bytes!("../../../shaders/wood.wgsl").as_slice(),
        );
        app.add_plugins(MaterialPlugin::<WoodMaterial>::default());
    }
}
