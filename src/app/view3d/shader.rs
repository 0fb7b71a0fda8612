//! The two small programs of the 3D view: shaded surfaces with inked outlines, and pen strokes.

use web_sys::{WebGl2RenderingContext as Gl, WebGlProgram, WebGlShader, WebGlUniformLocation};

/// Attribute slots, fixed in the shader text.
pub const POSITION: u32 = 0;
pub const NORMAL: u32 = 1;
pub const FROM: u32 = 0;
pub const TO: u32 = 1;
pub const ALONG: u32 = 2;

const SURFACE_VERTEX: &str = "#version 300 es
layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
uniform mat4 matrix;
out vec3 facing;
void main() {
  facing = normal;
  gl_Position = matrix * vec4(position, 1.0);
}";

// The outline: near it the part of the normal that faces the viewer, f, falls to 0 with the root of
// the distance d, so f / |grad f| = 2 d, in pixels, whatever the size of the tube.
const SURFACE_FRAGMENT: &str = "#version 300 es
precision highp float;
in vec3 facing;
uniform vec3 ink, paper, eye, light;
uniform float tone, relief, edge, hatch;
uniform bool outline_only;
out vec4 colour;
void main() {
  vec3 n = normalize(facing);
  float f = abs(dot(n, eye));
  float d = f / max(length(vec2(dFdx(f), dFdy(f))), 1e-5) * 0.5;
  float inked = 1.0 - smoothstep(edge - 0.6, edge + 0.6, d);
  if (outline_only && inked < 0.5) discard;
  float shade = tone + relief * (0.5 + 0.5 * dot(n, light));
  if (hatch > 0.0) {
    float across = (gl_FragCoord.x + gl_FragCoord.y) * 0.70711;
    float off = abs(fract(across / hatch) - 0.5) * hatch;
    inked = max(inked, 0.8 * (1.0 - smoothstep(edge * 0.25, edge * 0.25 + 1.0, off)));
  }
  colour = vec4(mix(mix(paper, ink, clamp(shade, 0.0, 1.0)), ink, inked), 1.0);
}";

// Every instance is one straight stretch, widened on the picture, with its ends let out by half
// the width so that bends close. It is drawn a little nearer than it is, to lie on its surface.
const STROKE_VERTEX: &str = "#version 300 es
layout(location = 0) in vec3 from;
layout(location = 1) in vec3 to;
layout(location = 2) in float along;
uniform mat4 matrix;
uniform vec2 size;
uniform float width, nearer, per_unit;
out float travelled;
void main() {
  vec4 a = matrix * vec4(from, 1.0), b = matrix * vec4(to, 1.0);
  vec2 way = (b.xy - a.xy) * size;
  float run = length(way);
  vec2 ahead = run > 1e-6 ? way / run : vec2(1.0, 0.0);
  bool last = gl_VertexID > 1;
  float side = (gl_VertexID & 1) == 1 ? 1.0 : -1.0;
  vec4 place = last ? b : a;
  vec2 shift = vec2(-ahead.y, ahead.x) * side + ahead * (last ? 1.0 : -1.0) * 0.5;
  place.xy += shift * width / size;
  place.z -= nearer;
  travelled = (along + (last ? distance(from, to) : 0.0)) * per_unit;
  gl_Position = place;
}";

const STROKE_FRAGMENT: &str = "#version 300 es
precision highp float;
in float travelled;
uniform vec3 ink;
uniform vec4 dashes;
uniform float strength;
out vec4 colour;
void main() {
  float period = dashes.x + dashes.y + dashes.z + dashes.w;
  if (period > 0.0) {
    float at = mod(travelled, period);
    bool drawn = at < dashes.x
      || (at > dashes.x + dashes.y && at < dashes.x + dashes.y + dashes.z);
    if (!drawn) discard;
  }
  colour = vec4(ink * strength, strength);
}";

/// A linked program and its uniforms by name.
pub struct Program {
    program: WebGlProgram,
    uniforms: Vec<(&'static str, Option<WebGlUniformLocation>)>,
}

impl Program {
    /// Shaded surfaces. `None` when the browser cannot build it.
    pub fn surfaces(gl: &Gl) -> Option<Self> {
        let names = [
            "matrix",
            "ink",
            "paper",
            "eye",
            "light",
            "tone",
            "relief",
            "edge",
            "hatch",
            "outline_only",
        ];
        Self::build(gl, SURFACE_VERTEX, SURFACE_FRAGMENT, &names)
    }

    /// Pen strokes. `None` when the browser cannot build it.
    pub fn strokes(gl: &Gl) -> Option<Self> {
        let names = [
            "matrix", "size", "width", "nearer", "per_unit", "ink", "dashes", "strength",
        ];
        Self::build(gl, STROKE_VERTEX, STROKE_FRAGMENT, &names)
    }

    fn build(gl: &Gl, vertex: &str, fragment: &str, names: &[&'static str]) -> Option<Self> {
        let program = gl.create_program()?;
        for (kind, text) in [(Gl::VERTEX_SHADER, vertex), (Gl::FRAGMENT_SHADER, fragment)] {
            gl.attach_shader(&program, &compile(gl, kind, text)?);
        }
        gl.link_program(&program);
        let linked = gl.get_program_parameter(&program, Gl::LINK_STATUS);
        if linked.as_bool() != Some(true) {
            leptos::logging::warn!("3D view: {:?}", gl.get_program_info_log(&program));
            return None;
        }
        let uniforms = names
            .iter()
            .map(|name| (*name, gl.get_uniform_location(&program, name)))
            .collect();
        Some(Self { program, uniforms })
    }

    /// Makes it the program in use.
    pub fn use_in(&self, gl: &Gl) {
        gl.use_program(Some(&self.program));
    }

    /// The uniform of a name; a name not used by the program sets nothing.
    pub fn uniform(&self, name: &str) -> Option<&WebGlUniformLocation> {
        self.uniforms
            .iter()
            .find(|(known, _)| *known == name)
            .and_then(|(_, location)| location.as_ref())
    }
}

fn compile(gl: &Gl, kind: u32, text: &str) -> Option<WebGlShader> {
    let shader = gl.create_shader(kind)?;
    gl.shader_source(&shader, text);
    gl.compile_shader(&shader);
    let compiled = gl.get_shader_parameter(&shader, Gl::COMPILE_STATUS);
    if compiled.as_bool() == Some(true) {
        Some(shader)
    } else {
        leptos::logging::warn!("3D view: {:?}", gl.get_shader_info_log(&shader));
        None
    }
}
