/**
 * Raw pixels, eight bits a channel, as an uncompressed TIFF 6.0 with a colour profile (tag 34675, ICC.1 annex B.4):
 * the one way to tell sharp which colours raw pixels are in.
 */
export function tiffWithProfile({ data, width, height }: { data: Buffer; width: number; height: number }, icc: Buffer): Buffer {
  const channels = data.length / (width * height);
  const [short, long, undefinedBytes] = [3, 4, 7];
  const bitsAt = 8;
  const iccAt = bitsAt + 8;
  const directoryAt = iccAt + icc.length + (icc.length % 2);
  const fields: [tag: number, type: number, count: number, value: number][] = [
    [256, long, 1, width],
    [257, long, 1, height],
    [258, short, channels, channels === 1 ? 8 : bitsAt],
    [259, short, 1, 1],
    [262, short, 1, channels < 3 ? 1 : 2],
    [273, long, 1, 0],
    [277, short, 1, channels],
    [278, long, 1, height],
    [279, long, 1, data.length],
    [284, short, 1, 1],
    [34675, undefinedBytes, icc.length, iccAt],
  ];
  const pixelsAt = directoryAt + 2 + fields.length * 12 + 4;
  const head = Buffer.alloc(pixelsAt);
  head.write('II*\0', 0, 'latin1');
  head.writeUInt32LE(directoryAt, 4);
  for (let channel = 0; channel < 4; channel += 1) head.writeUInt16LE(8, bitsAt + 2 * channel);
  icc.copy(head, iccAt);
  head.writeUInt16LE(fields.length, directoryAt);
  for (const [index, [tag, type, count, value]] of fields.entries()) {
    const at = directoryAt + 2 + index * 12;
    head.writeUInt16LE(tag, at);
    head.writeUInt16LE(type, at + 2);
    head.writeUInt32LE(count, at + 4);
    head.writeUInt32LE(tag === 273 ? pixelsAt : value, at + 8);
  }
  return Buffer.concat([head, data]);
}
