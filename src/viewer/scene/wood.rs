//! Our own materials: ply and lumber with maps over them, and water.

use std::path::{Path, PathBuf};

use bevy::asset::io::embedded::EmbeddedAssetRegistry;
use bevy::pbr::{ExtendedMaterial, MaterialExtension};
use bevy::prelude::*;
use bevy::render::render_resource::{AsBindGroup, ShaderType};
use bevy::shader::ShaderRef;

/// A lit wood material with the map over it.
pub type WoodMaterial = ExtendedMaterial<StandardMaterial, Wood>;

/// What is drawn over the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Over {
    /// Nothing: plain wood or paint.
    #[default]
    Plain,
    /// How near to its limit it is bent, light to dark, with isolines.
    Map,
    /// Stripes that run smoothly where the surface does.
    Stripes,
}

/// How a piece looks.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct WoodLook {
    /// What is drawn over it.
    pub over: Over,
    /// Strength of the face grain, 0 to 1.
    pub grain: f32,
    /// Lit up as pointed at.
    pub lit: bool,
    /// On dark ground.
    pub dark: bool,
    /// Paint of its outer face, linear.
    pub paint: Option<[f32; 3]>,
    /// All that lies forward of this (m) is cut away.
    pub cut: Option<f32>,
    /// The port half is left away.
    pub half: bool,
    /// Below this height (m) it is wet.
    pub water: Option<f32>,
}

impl WoodLook {
    /// Whether its hollow inside may come into sight.
    pub fn opened(&self) -> bool {
        self.cut.is_some() || self.half
    }
}

/// The shader's uniform; see `shaders/wood.wgsl`.
#[derive(ShaderType, Debug, Clone, Copy, PartialEq, Default, Reflect)]
pub struct WoodUniform {
    look: Vec4,
    paint: Vec4,
    away: Vec4,
    water: Vec4,
}

/// The part of the material that is ours.
#[derive(Asset, AsBindGroup, Reflect, Debug, Clone)]
pub struct Wood {
    #[uniform(100)]
    uniform: WoodUniform,
}

impl Wood {
    /// The uniform of a look.
    pub fn new(look: WoodLook) -> Wood {
        let flag = |b: bool| if b { 1.0 } else { 0.0 };
        let over = match look.over {
            Over::Plain => 0.0,
            Over::Map => 1.0,
            Over::Stripes => 2.0,
        };
        let [r, g, b] = look.paint.unwrap_or_default();
        let uniform = WoodUniform {
            look: Vec4::new(over, look.grain, flag(look.lit), flag(look.dark)),
            paint: Vec4::new(r, g, b, flag(look.paint.is_some())),
            away: Vec4::new(
                flag(look.cut.is_some()),
                look.cut.unwrap_or(0.0),
                flag(look.half),
                0.0,
            ),
            water: Vec4::new(flag(look.water.is_some()), look.water.unwrap_or(0.0), 0.0, 0.0),
        };
        Wood { uniform }
    }
}

impl MaterialExtension for Wood {
    fn fragment_shader() -> ShaderRef {
        "embedded://chinewright/wood.wgsl".into()
    }
}

/// The water that she is looked at in.
#[derive(Asset, AsBindGroup, Reflect, Debug, Clone)]
pub struct Water {
    /// Tint, linear, with its strength.
    #[uniform(0)]
    pub tint: Vec4,
    /// Middle of the pool (x, z) and its half length and half width, m.
    #[uniform(0)]
    pub pool: Vec4,
}

impl Material for Water {
    fn fragment_shader() -> ShaderRef {
        "embedded://chinewright/water.wgsl".into()
    }

    fn alpha_mode(&self) -> AlphaMode {
        AlphaMode::Blend
    }
}

/// Registers the materials and their shaders, which are part of the program.
#[derive(Debug)]
pub struct WoodPlugin;

impl Plugin for WoodPlugin {
    fn build(&self, app: &mut App) {
        let embedded = app.world_mut().resource_mut::<EmbeddedAssetRegistry>();
        let embed = |file: &str, bytes: &'static [u8]| {
            let (full, name) = (format!("shaders/{file}"), format!("chinewright/{file}"));
            embedded.insert_asset(PathBuf::from(full), Path::new(&name), bytes);
        };
        embed("wood.wgsl", include_bytes!("../../../shaders/wood.wgsl"));
        embed("water.wgsl", include_bytes!("../../../shaders/water.wgsl"));
        app.add_plugins((
            MaterialPlugin::<WoodMaterial>::default(),
            MaterialPlugin::<Water>::default(),
        ));
    }
}
