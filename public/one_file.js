
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

  // LZMA with four bits of literal context and none of position, behind the length as four bytes.
  // Follows the LZMA specification of Igor Pavlov (2015, public domain), whose names of states and
  // tables are kept as numbers there are.
  const unpacked = bytes => {
    const out = new Uint8Array(new DataView(bytes.buffer).getUint32(0, true));
    const chances = count => new Uint16Array(count).fill(1024);
    let at = 0;
    // The range coder: its first byte says nothing, four more start the code.
    let from = 9;
    let range = 0xffffffff;
    let code = new DataView(bytes.buffer).getUint32(5);
    const refill = () => {
      if (range >= 0x1000000) return;
      range *= 256;
      code = code * 256 + (bytes[from++] ?? 0);
    };
    const bit = (table, index) => {
      const chance = table[index];
      const bound = (range >>> 11) * chance;
      const one = code >= bound;
      if (one) {
        range -= bound;
        code -= bound;
        table[index] = chance - (chance >> 5);
      } else {
        range = bound;
        table[index] = chance + ((2048 - chance) >> 5);
      }
      refill();
      return one ? 1 : 0;
    };
    const direct = count => {
      let value = 0;
      for (; count > 0; count -= 1) {
        range >>>= 1;
        const one = code >= range;
        if (one) code -= range;
        refill();
        value = value * 2 + (one ? 1 : 0);
      }
      return value;
    };
    const tree = (table, start, count) => {
      let node = 1;
      for (let i = 0; i < count; i += 1) node = node * 2 + bit(table, start + node);
      return node - (1 << count);
    };
    const reversed = (table, start, count) => {
      let node = 1;
      let value = 0;
      for (let i = 0; i < count; i += 1) {
        const one = bit(table, start + node);
        node = node * 2 + one;
        value |= one << i;
      }
      return value;
    };
    const lengths = () => ({ choice: chances(2), low: chances(8), mid: chances(8), high: chances(256) });
    const length = of => {
      if (!bit(of.choice, 0)) return tree(of.low, 0, 3);
      if (!bit(of.choice, 1)) return 8 + tree(of.mid, 0, 3);
      return 16 + tree(of.high, 0, 8);
    };

    const literal = chances(0x300 << 4);
    const [isMatch, isRep, isRep0, isRep1, isRep2, isLong] = [12, 12, 12, 12, 12, 12].map(chances);
    const [matchLength, repLength] = [lengths(), lengths()];
    const [slots, special, align] = [chances(4 * 64), chances(128), chances(16)];
    const distance = long => {
      const slot = tree(slots, Math.min(long, 3) * 64, 6);
      if (slot < 4) return slot;
      const count = (slot >> 1) - 1;
      const start = (2 + (slot & 1)) * 2 ** count;
      if (slot < 14) return start + reversed(special, start - slot, count);
      const high = direct(count - 4) * 16;
      return start + high + reversed(align, 0, 4);
    };

    let state = 0;
    let reps = [0, 0, 0, 0];
    while (at < out.length) {
      if (!bit(isMatch, state)) {
        const start = 0x300 * ((at ? out[at - 1] : 0) >> 4);
        let symbol = 1;
        if (state >= 7) {
          let match = out[at - reps[0] - 1];
          while (symbol < 0x100) {
            const wanted = match >> 7;
            match = (match << 1) & 0xff;
            const one = bit(literal, start + ((1 + wanted) << 8) + symbol);
            symbol = symbol * 2 + one;
            if (one !== wanted) break;
          }
        }
        while (symbol < 0x100) symbol = symbol * 2 + bit(literal, start + symbol);
        out[at++] = symbol;
        state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
        continue;
      }
      let long;
      if (bit(isRep, state)) {
        let which = 0;
        if (bit(isRep0, state)) which = bit(isRep1, state) ? 2 + bit(isRep2, state) : 1;
        else if (!bit(isLong, state)) {
          out[at] = out[at - reps[0] - 1];
          at += 1;
          state = state < 7 ? 9 : 11;
          continue;
        }
        reps = [reps[which], ...reps.filter((_, i) => i !== which)];
        long = length(repLength);
        state = state < 7 ? 8 : 11;
      } else {
        long = length(matchLength);
        reps = [distance(long), reps[0], reps[1], reps[2]];
        state = state < 7 ? 7 : 10;
      }
      for (let left = long + 2; left > 0; left -= 1) {
        out[at] = out[at - reps[0] - 1];
        at += 1;
      }
    }
    return out;
  };

  try {
    const program = unpacked(unlettered(packed));
    if (inPage) {
      const text = [`globalThis.packed = ${JSON.stringify(packed)};\n`, own];
      const worker = new Blob(text, { type: 'text/javascript' });
      document.body.dataset.workshop = URL.createObjectURL(worker);
      // What a frame of the hosted page loads when it is opened is unpacked then.
      const about = document.querySelector('#about details');
      about.addEventListener('toggle', () => {
        const text = unpacked(unlettered(document.getElementById('about-packed').textContent));
        about.querySelector('div').innerHTML = new TextDecoder().decode(text);
      }, { once: true });
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
