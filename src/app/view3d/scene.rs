//! What the graphics processor holds of a joint, and how it is drawn.

use js_sys::{Float32Array, Uint32Array};
use web_sys::{WebGl2RenderingContext as Gl, WebGlBuffer, WebGlVertexArrayObject};

use crate::app::view3d::camera::View;
use crate::app::view3d::ink::Inks;
use crate::app::view3d::shader::{ALONG, FROM, NORMAL, POSITION, Program, TO};
use crate::cope::{LineRole, Mesh, Patch, Solid, SpaceLine, Surface};

/// Floats of one corner: position and normal.
const CORNER: usize = 6;
/// Floats of one stretch of a line: both ends and the length before it.
const STRETCH: usize = 7;

/// How the main is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MainStyle {
    /// As a solid bar.
    Solid,
    /// As an outline, so that nothing hides the cut.
    Outline,
}

/// One frame's worth of settings.
pub struct Frame {
    /// From where it is seen, in device pixels.
    pub view: View,
    /// Width and height in device pixels.
    pub size: (f64, f64),
    /// Device pixels for each CSS pixel.
    pub density: f64,
    pub inks: Inks,
    pub main: MainStyle,
}

/// A role's pen: width, dashes (drawn, gap, drawn, gap) in CSS pixels, strength where visible and
/// where something is in front.
struct Pen {
    width: f64,
    dashes: [f64; 4],
    strength: f64,
    hidden: f64,
}

fn pen(role: LineRole) -> Pen {
    let (width, dashes, strength, hidden) = match role {
        LineRole::Cut => (2.3, [0.0; 4], 1.0, 0.45),
        LineRole::Trim => (1.8, [7.0, 4.0, 0.0, 0.0], 1.0, 0.3),
        LineRole::Gap => (1.5, [0.0; 4], 0.8, 0.0),
        LineRole::Zero => (1.7, [14.0, 4.0, 2.5, 4.0], 1.0, 0.4),
        LineRole::FarEnd => (1.4, [0.0; 4], 1.0, 0.0),
        LineRole::MainEnd => (1.3, [0.0; 4], 0.9, 0.0),
        LineRole::Axis => (0.9, [18.0, 4.0, 3.0, 4.0], 0.75, 0.0),
    };
    Pen {
        width,
        dashes,
        strength,
        hidden,
    }
}

/// Dashes of a line behind something, CSS pixels.
const HIDDEN_DASHES: [f64; 4] = [4.0, 4.0, 0.0, 0.0];
/// Width of a line behind something, CSS pixels.
const HIDDEN_WIDTH: f64 = 1.1;
/// How many pixels nearer than their surface lines are drawn.
const NEARER: f64 = 1.5;

struct Body {
    array: WebGlVertexArrayObject,
    buffers: [WebGlBuffer; 2],
    patches: Vec<Patch>,
}

struct Strokes {
    role: LineRole,
    array: WebGlVertexArrayObject,
    buffer: WebGlBuffer,
    count: i32,
}

struct Loaded {
    branch: Body,
    mains: Vec<Body>,
    strokes: Vec<Strokes>,
}

/// The programs and the loaded joint of one WebGL2 context.
pub struct Scene {
    gl: Gl,
    surfaces: Program,
    strokes: Program,
    loaded: Option<Loaded>,
}

impl Scene {
    /// Prepares a context; `None` when it cannot build the programs.
    pub fn new(gl: Gl) -> Option<Self> {
        let surfaces = Program::surfaces(&gl)?;
        let strokes = Program::strokes(&gl)?;
        gl.enable(Gl::DEPTH_TEST);
        gl.blend_func(Gl::ONE, Gl::ONE_MINUS_SRC_ALPHA);
        gl.cull_face(Gl::BACK);
        Some(Self {
            gl,
            surfaces,
            strokes,
            loaded: None,
        })
    }

    /// Replaces the joint.
    pub fn load(&mut self, solid: Option<&Solid>) {
        if let Some(old) = self.loaded.take() {
            self.release(&old);
        }
        self.loaded = solid.and_then(|solid| {
            let roles = [
                LineRole::Axis,
                LineRole::MainEnd,
                LineRole::FarEnd,
                LineRole::Gap,
                LineRole::Zero,
                LineRole::Trim,
                LineRole::Cut,
            ];
            let strokes = roles
                .into_iter()
                .map(|role| {
                    let lines = solid.lines.iter().filter(|line| line.role == role);
                    self.load_strokes(role, lines)
                })
                .collect::<Option<Vec<_>>>()?;
            Some(Loaded {
                branch: self.load_body(&solid.branch)?,
                mains: solid
                    .mains
                    .iter()
                    .map(|main| self.load_body(main))
                    .collect::<Option<Vec<_>>>()?,
                strokes,
            })
        });
    }

    fn release(&self, old: &Loaded) {
        for body in std::iter::once(&old.branch).chain(&old.mains) {
            self.gl.delete_vertex_array(Some(&body.array));
            for buffer in &body.buffers {
                self.gl.delete_buffer(Some(buffer));
            }
        }
        for strokes in &old.strokes {
            self.gl.delete_vertex_array(Some(&strokes.array));
            self.gl.delete_buffer(Some(&strokes.buffer));
        }
    }

    fn load_body(&self, mesh: &Mesh) -> Option<Body> {
        let corners: Vec<f32> = mesh
            .positions
            .iter()
            .zip(&mesh.normals)
            .flat_map(|(position, normal)| position.iter().chain(normal))
            .map(|number| *number as f32)
            .collect();
        let array = self.gl.create_vertex_array()?;
        self.gl.bind_vertex_array(Some(&array));
        let buffer = self.fill(&corners)?;
        for (slot, offset) in [(POSITION, 0), (NORMAL, 3)] {
            self.attribute(slot, 3, CORNER, offset);
        }
        let indices = self.gl.create_buffer()?;
        self.gl
            .bind_buffer(Gl::ELEMENT_ARRAY_BUFFER, Some(&indices));
        self.gl.buffer_data_with_array_buffer_view(
            Gl::ELEMENT_ARRAY_BUFFER,
            &Uint32Array::from(mesh.triangles.as_flattened()),
            Gl::STATIC_DRAW,
        );
        self.gl.bind_vertex_array(None);
        Some(Body {
            array,
            buffers: [buffer, indices],
            patches: mesh.patches.clone(),
        })
    }

    fn load_strokes<'a>(
        &self,
        role: LineRole,
        lines: impl Iterator<Item = &'a SpaceLine>,
    ) -> Option<Strokes> {
        let mut stretches: Vec<f32> = Vec::new();
        for line in lines {
            let mut along = 0.0;
            for pair in line.points.windows(2) {
                let ends = pair.iter().flatten().map(|number| *number as f32);
                stretches.extend(ends);
                stretches.push(along as f32);
                let step = [0, 1, 2].map(|axis| pair[1][axis] - pair[0][axis]);
                along += step.iter().map(|part| part * part).sum::<f64>().sqrt();
            }
        }
        let array = self.gl.create_vertex_array()?;
        self.gl.bind_vertex_array(Some(&array));
        let buffer = self.fill(&stretches)?;
        for (slot, size, offset) in [(FROM, 3, 0), (TO, 3, 3), (ALONG, 1, 6)] {
            self.attribute(slot, size, STRETCH, offset);
            self.gl.vertex_attrib_divisor(slot, 1);
        }
        self.gl.bind_vertex_array(None);
        let count = (stretches.len() / STRETCH) as i32;
        Some(Strokes {
            role,
            array,
            buffer,
            count,
        })
    }

    fn fill(&self, numbers: &[f32]) -> Option<WebGlBuffer> {
        let buffer = self.gl.create_buffer()?;
        self.gl.bind_buffer(Gl::ARRAY_BUFFER, Some(&buffer));
        self.gl.buffer_data_with_array_buffer_view(
            Gl::ARRAY_BUFFER,
            &Float32Array::from(numbers),
            Gl::STATIC_DRAW,
        );
        Some(buffer)
    }

    fn attribute(&self, slot: u32, size: i32, stride: usize, offset: usize) {
        const FLOAT: usize = size_of::<f32>();
        self.gl.enable_vertex_attrib_array(slot);
        self.gl.vertex_attrib_pointer_with_i32(
            slot,
            size,
            Gl::FLOAT,
            false,
            (stride * FLOAT) as i32,
            (offset * FLOAT) as i32,
        );
    }

    /// Draws one picture.
    pub fn draw(&self, frame: &Frame) {
        let gl = &self.gl;
        let [r, g, b] = frame.inks.paper;
        gl.viewport(0, 0, frame.size.0 as i32, frame.size.1 as i32);
        gl.clear_color(r, g, b, 1.0);
        gl.depth_mask(true);
        gl.depth_func(Gl::LEQUAL);
        gl.clear(Gl::COLOR_BUFFER_BIT | Gl::DEPTH_BUFFER_BIT);
        let Some(loaded) = &self.loaded else {
            return;
        };
        let matrix = frame.view.matrix();
        self.surfaces.use_in(gl);
        gl.uniform_matrix4fv_with_f32_array(self.surfaces.uniform("matrix"), false, &matrix);
        self.light(frame);
        gl.disable(Gl::BLEND);
        self.draw_body(&loaded.branch, frame);
        if frame.main == MainStyle::Solid {
            for main in &loaded.mains {
                self.draw_body(main, frame);
            }
        }
        self.strokes.use_in(gl);
        gl.uniform_matrix4fv_with_f32_array(self.strokes.uniform("matrix"), false, &matrix);
        self.draw_strokes(&loaded.strokes, frame);
        if frame.main == MainStyle::Outline {
            // Last and without depth of its own: an outline hides nothing.
            self.surfaces.use_in(gl);
            gl.depth_mask(false);
            for main in &loaded.mains {
                self.draw_body(main, frame);
            }
        }
        gl.bind_vertex_array(None);
    }

    /// Light over the viewer's left shoulder, and what light does to ink and paper.
    fn light(&self, frame: &Frame) {
        let (gl, view) = (&self.gl, &frame.view);
        let f32s = |vector: [f64; 3]| vector.map(|part| part as f32);
        let light = [0, 1, 2]
            .map(|axis| -0.5 * view.right[axis] + 0.55 * view.up[axis] + 0.67 * view.eye[axis]);
        let set = |name: &str, vector: [f32; 3]| {
            gl.uniform3fv_with_f32_array(self.surfaces.uniform(name), &vector);
        };
        set("ink", frame.inks.ink);
        set("paper", frame.inks.paper);
        set("eye", f32s(view.eye));
        set("light", f32s(light));
        let edge = 1.5 * frame.density;
        gl.uniform1f(self.surfaces.uniform("edge"), edge as f32);
    }

    fn draw_body(&self, body: &Body, frame: &Frame) {
        let gl = &self.gl;
        gl.bind_vertex_array(Some(&body.array));
        for patch in &body.patches {
            // Tone at full light and in full shade, as parts of ink on paper, and the hatching.
            let (lit, shaded, hatch) = match patch.surface {
                Surface::Outside => (0.03, 0.30, 0.0),
                Surface::FarEnd => (0.02, 0.22, 0.0),
                Surface::Bore => (0.26, 0.50, 0.0),
                Surface::CutFace => (0.02, 0.12, 5.0),
                Surface::Main | Surface::MainEnd => (0.10, 0.44, 0.0),
            };
            // Light ink on dark paper: what is lit carries more of it.
            let (tone, relief) = if frame.inks.light_on_dark() {
                (0.55 * lit + 0.02, 0.6 * (shaded - lit))
            } else {
                (shaded, lit - shaded)
            };
            let outline = body_is_main(patch.surface) && frame.main == MainStyle::Outline;
            let set = |name: &str, number: f64| {
                gl.uniform1f(self.surfaces.uniform(name), number as f32);
            };
            set("tone", tone);
            set("relief", relief);
            set("hatch", hatch * frame.density);
            gl.uniform1i(self.surfaces.uniform("outline_only"), outline.into());
            gl.enable(Gl::CULL_FACE);
            gl.draw_elements_with_i32(
                Gl::TRIANGLES,
                (3 * patch.triangles.len()) as i32,
                Gl::UNSIGNED_INT,
                (3 * size_of::<u32>() * patch.triangles.start) as i32,
            );
        }
    }

    fn draw_strokes(&self, strokes: &[Strokes], frame: &Frame) {
        let gl = &self.gl;
        let size = (frame.size.0 as f32, frame.size.1 as f32);
        gl.uniform2f(self.strokes.uniform("size"), size.0, size.1);
        gl.uniform3fv_with_f32_array(self.strokes.uniform("ink"), &frame.inks.ink);
        let set = |name: &str, number: f64| {
            gl.uniform1f(self.strokes.uniform(name), number as f32);
        };
        set("per_unit", frame.view.per_unit);
        set(
            "nearer",
            NEARER * frame.density * frame.view.depth_of_unit(),
        );
        gl.disable(Gl::CULL_FACE);
        gl.enable(Gl::BLEND);
        gl.depth_mask(false);
        for hidden in [true, false] {
            gl.depth_func(if hidden { Gl::GREATER } else { Gl::LEQUAL });
            for strokes in strokes {
                let pen = pen(strokes.role);
                let (width, dashes, strength) = if hidden {
                    (HIDDEN_WIDTH, HIDDEN_DASHES, pen.hidden)
                } else {
                    (pen.width, pen.dashes, pen.strength)
                };
                if strokes.count == 0 || strength == 0.0 {
                    continue;
                }
                set("width", width * frame.density);
                set("strength", strength);
                let dashes = dashes.map(|dash| (dash * frame.density) as f32);
                gl.uniform4fv_with_f32_array(self.strokes.uniform("dashes"), &dashes);
                gl.bind_vertex_array(Some(&strokes.array));
                gl.draw_arrays_instanced(Gl::TRIANGLE_STRIP, 0, 4, strokes.count);
            }
        }
        gl.depth_func(Gl::LEQUAL);
        gl.disable(Gl::BLEND);
    }
}

fn body_is_main(surface: Surface) -> bool {
    matches!(surface, Surface::Main | Surface::MainEnd)
}
