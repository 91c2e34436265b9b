//! Meshes to STL, OBJ and GLB.

use std::fmt::Write as _;
use std::path::Path;

use gltf_json as gltf;
use gltf_json::validation::{Checked, USize64};

use crate::geom::mesh::Mesh;

/// A mesh file's format, by its ending.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeshFormat {
    /// Binary STL, mm.
    Stl,
    /// Wavefront OBJ, mm.
    Obj,
    /// Binary glTF, metres (its standard's unit), y up.
    Glb,
}

impl MeshFormat {
    /// The format of a path's ending.
    ///
    /// # Errors
    /// Names the ending and what would be accepted.
    pub fn of_path(path: &Path) -> Result<MeshFormat, String> {
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase();
        match ending.as_str() {
            "stl" => Ok(MeshFormat::Stl),
            "obj" => Ok(MeshFormat::Obj),
            "glb" => Ok(MeshFormat::Glb),
            other => Err(format!("mesh file ending {other:?}; accepted: .stl, .obj, .glb")),
        }
    }

    /// The mesh in this format.
    ///
    /// # Errors
    /// What the format's library says.
    pub fn bytes(self, mesh: &Mesh, name: &str) -> Result<Vec<u8>, String> {
        match self {
            MeshFormat::Stl => stl(mesh),
            MeshFormat::Obj => Ok(obj(mesh, name).into_bytes()),
            MeshFormat::Glb => glb(mesh, name),
        }
    }
}

fn stl(mesh: &Mesh) -> Result<Vec<u8>, String> {
    let vector = |v: [f64; 3]| stl_io::Vector::new(v.map(|c| c as f32));
    let triangles: Vec<stl_io::Triangle> = mesh
        .corners()
        .zip(mesh.normals())
        .map(|(corners, n)| stl_io::Triangle {
            normal: vector([n.x, n.y, n.z]),
            vertices: corners.map(|p| vector([p.x, p.y, p.z])),
        })
        .collect();
    let mut bytes = Vec::new();
    stl_io::write_stl(&mut bytes, triangles.iter()).map_err(|e| e.to_string())?;
    Ok(bytes)
}

/// OBJ is lines of text; no library is simpler than writing them.
fn obj(mesh: &Mesh, name: &str) -> String {
    let mut text = format!(
        "# {} in mm: x aft, y to starboard, z up\no hull\n",
        name.replace(['\n', '\r'], " ")
    );
    for p in &mesh.vertices {
        let _ = writeln!(text, "v {:.6} {:.6} {:.6}", p.x, p.y, p.z);
    }
    for t in &mesh.triangles {
        let _ = writeln!(text, "f {} {} {}", t[0] + 1, t[1] + 1, t[2] + 1);
    }
    text
}

fn glb(mesh: &Mesh, name: &str) -> Result<Vec<u8>, String> {
    // glTF is in metres with y up: x stays aft, its y is our z, its z our -y.
    let positions: Vec<[f32; 3]> =
        mesh.vertices.iter().map(|p| [p.x, p.z, -p.y].map(|c| (c / 1000.0) as f32)).collect();
    let mut bin: Vec<u8> = Vec::new();
    for c in positions.iter().flatten() {
        bin.extend_from_slice(&c.to_le_bytes());
    }
    let positions_length = bin.len();
    for i in mesh.triangles.iter().flatten() {
        bin.extend_from_slice(&i.to_le_bytes());
    }
    let (mut low, mut high) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
    for p in &positions {
        for k in 0..3 {
            low[k] = low[k].min(p[k]);
            high[k] = high[k].max(p[k]);
        }
    }
    let mut root = gltf::Root::default();
    let buffer = root.push(gltf::Buffer {
        byte_length: USize64::from(bin.len()),
        name: None,
        uri: None,
        extensions: None,
        extras: Default::default(),
    });
    let mut view = |offset: usize, length: usize, target: gltf::buffer::Target| {
        root.push(gltf::buffer::View {
            buffer,
            byte_length: USize64::from(length),
            byte_offset: Some(USize64::from(offset)),
            byte_stride: None,
            name: None,
            target: Some(Checked::Valid(target)),
            extensions: None,
            extras: Default::default(),
        })
    };
    let position_view = view(0, positions_length, gltf::buffer::Target::ArrayBuffer);
    let index_view = view(
        positions_length,
        bin.len() - positions_length,
        gltf::buffer::Target::ElementArrayBuffer,
    );
    let position = root.push(gltf::Accessor {
        buffer_view: Some(position_view),
        byte_offset: Some(USize64(0)),
        count: USize64::from(positions.len()),
        component_type: Checked::Valid(gltf::accessor::GenericComponentType(
            gltf::accessor::ComponentType::F32,
        )),
        type_: Checked::Valid(gltf::accessor::Type::Vec3),
        min: Some(serde_json::json!(low)),
        max: Some(serde_json::json!(high)),
        name: None,
        normalized: false,
        sparse: None,
        extensions: None,
        extras: Default::default(),
    });
    let indices = root.push(gltf::Accessor {
        buffer_view: Some(index_view),
        byte_offset: Some(USize64(0)),
        count: USize64::from(mesh.triangles.len() * 3),
        component_type: Checked::Valid(gltf::accessor::GenericComponentType(
            gltf::accessor::ComponentType::U32,
        )),
        type_: Checked::Valid(gltf::accessor::Type::Scalar),
        min: None,
        max: None,
        name: None,
        normalized: false,
        sparse: None,
        extensions: None,
        extras: Default::default(),
    });
    let primitive = gltf::mesh::Primitive {
        attributes: std::iter::once((Checked::Valid(gltf::mesh::Semantic::Positions), position))
            .collect(),
        indices: Some(indices),
        material: None,
        mode: Checked::Valid(gltf::mesh::Mode::Triangles),
        targets: None,
        extensions: None,
        extras: Default::default(),
    };
    let hull = root.push(gltf::Mesh {
        name: Some(name.into()),
        primitives: vec![primitive],
        weights: None,
        extensions: None,
        extras: Default::default(),
    });
    let node =
        root.push(gltf::Node { mesh: Some(hull), name: Some(name.into()), ..Default::default() });
    let scene = root.push(gltf::Scene {
        nodes: vec![node],
        name: None,
        extensions: None,
        extras: Default::default(),
    });
    root.scene = Some(scene);
    let json = gltf::serialize::to_string(&root).map_err(|e| e.to_string())?;
    Ok(container(json.into_bytes(), bin))
}

/// The GLB container: a header and two chunks, each padded to four bytes.
/// Source: glTF 2.0 specification, section 4 (GLB file format).
fn container(mut json: Vec<u8>, mut bin: Vec<u8>) -> Vec<u8> {
    json.resize(json.len().next_multiple_of(4), b' ');
    bin.resize(bin.len().next_multiple_of(4), 0);
    let total = 12 + 8 + json.len() + 8 + bin.len();
    let mut out = Vec::with_capacity(total);
    out.extend_from_slice(b"glTF");
    out.extend_from_slice(&2u32.to_le_bytes());
    out.extend_from_slice(&(total as u32).to_le_bytes());
    for (kind, chunk) in [(b"JSON", json), (b"BIN\0", bin)] {
        out.extend_from_slice(&(chunk.len() as u32).to_le_bytes());
        out.extend_from_slice(kind);
        out.extend_from_slice(&chunk);
    }
    out
}
