
// Starts the page that is one file. The build puts this after the program's own script, in the
// same text. A worker's text is that text once more, behind a line that holds the packed program: a
// worker of a file may fetch nothing, not even from the page that made it.
(async () => {
  const inPage = typeof document === 'object';
  const own = inPage ? document.currentScript.textContent : '';
  const packed = inPage ? document.getElementById('packed').textContent : globalThis.packed;

  // Seven bits to a letter, highest first.
  const unlettered = letters => {
    const bytes = new Uint8Array((letters.length * 7) >> 3);
    let bits = 0;
    let count = 0;
    let at = 0;
    for (let i = 0; i < letters.length; i += 1) {
      bits = ((bits << 7) | (letters.charCodeAt(i) & 127)) & 0x7fff;
      count += 7;
      if (count >= 8) {
        count -= 8;
        bytes[at++] = bits >> count;
      }
    }
    return bytes;
  };

  try {
    const bytes = unlettered(packed);
    const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
    const program = await new Response(unpacked).arrayBuffer();
    if (inPage) {
      const text = [`globalThis.packed = ${JSON.stringify(packed)};\n`, own];
      const worker = new Blob(text, { type: 'text/javascript' });
      document.body.dataset.workshop = URL.createObjectURL(worker);
      // Chromium refuses a worker that is a module of a file's; the text is no module.
      const Plain = globalThis.Worker;
      globalThis.Worker = class extends Plain {
        constructor(address) {
          super(address);
        }
      };
    }
    await __wbg_init({ module_or_path: program });
  } catch (error) {
    const line = inPage && document.getElementById('loading');
    if (line) line.textContent = 'Copewright does not start in this browser. Use a newer one.';
    throw error;
  }
})();
