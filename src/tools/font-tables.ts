/** TrueType fonts taken apart into their tables, and put together again. */

/** The tables of a TrueType font by their names. */
export function tablesOf(font: Buffer): Map<string, Buffer> {
  const entries = Array.from({ length: font.readUInt16BE(4) }, (_, i) => 12 + 16 * i);
  return new Map(
    entries.map((at) => {
      const [start, length] = [font.readUInt32BE(at + 8), font.readUInt32BE(at + 12)];
      return [font.toString('latin1', at, at + 4), Buffer.from(font.subarray(start, start + length))];
    }),
  );
}

/** A TrueType font of these tables; its checksums are made by what packs it. */
export function fontOf(tables: ReadonlyMap<string, Buffer>): Buffer {
  const size = 2 ** Math.floor(Math.log2(tables.size));
  const head = Buffer.alloc(12 + 16 * tables.size);
  head.writeUInt32BE(0x00010000, 0);
  head.writeUInt16BE(tables.size, 4);
  head.writeUInt16BE(size * 16, 6);
  head.writeUInt16BE(Math.log2(size), 8);
  head.writeUInt16BE((tables.size - size) * 16, 10);
  const parts = [head];
  let end = head.length;
  for (const [i, [name, table]] of [...tables].sort(([a], [b]) => (a < b ? -1 : 1)).entries()) {
    head.write(name, 12 + 16 * i, 'latin1');
    head.writeUInt32BE(end, 12 + 16 * i + 8);
    head.writeUInt32BE(table.length, 12 + 16 * i + 12);
    const padded = Buffer.concat([table, Buffer.alloc(-table.length & 3)]);
    parts.push(padded);
    end += padded.length;
  }
  return Buffer.concat(parts);
}

/** The font under a name of ours in place of the reserved one, in all its names but the notice of copyright. */
export function renamed(font: Buffer): Buffer {
  const table = tableOf(font, 'name');
  const strings = table + font.readUInt16BE(table + 4);
  for (let i = 0; i < font.readUInt16BE(table + 2); i++) {
    const record = table + 6 + 12 * i;
    const [id, length, offset] = [6, 8, 10].map((field) => font.readUInt16BE(record + field)) as [
      number,
      number,
      number,
    ];
    if (id === 0) continue;
    const name = font.subarray(strings + offset, strings + offset + length);
    const isWide = font.readUInt16BE(record) !== 1;
    for (const [from, to] of [
      ['Encode Sans', 'Vampwr Text'],
      ['EncodeSans', 'VampwrText'],
    ] as const) {
      const at = name.indexOf(isWide ? wide(from) : Buffer.from(from));
      if (at >= 0) (isWide ? wide(to) : Buffer.from(to)).copy(name, at);
    }
  }
  return font;
}

function wide(text: string): Buffer {
  return Buffer.from(text, 'utf16le').swap16();
}

function tableOf(font: Buffer, tag: string): number {
  for (let i = 0; i < font.readUInt16BE(4); i++) {
    const entry = 12 + 16 * i;
    if (font.toString('latin1', entry, entry + 4) === tag) return font.readUInt32BE(entry + 8);
  }
  throw new RangeError(`the font has no table "${tag}"`);
}
