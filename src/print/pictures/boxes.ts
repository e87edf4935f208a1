/** More than that is not missing from a photo: its boxes are broken. Our judgement. */
const mostMissing = 200_000_000;

/** How many bytes a HEIF or AVIF file (boxes of ISO/IEC 14496-12) lacks at its end; 0 for whole files and other formats. */
export function missingBytes(bytes: Buffer): number {
  if (bytes.toString('latin1', 4, 8) !== 'ftyp') return 0;
  let at = 0;
  while (at + 8 <= bytes.length) {
    const short = bytes.readUInt32BE(at);
    if (short === 0) return 0;
    const length = short === 1 && at + 16 <= bytes.length ? Number(bytes.readBigUInt64BE(at + 8)) : short;
    if (length < 8) return 0;
    at += length;
  }
  const missing = at - bytes.length;
  return missing > 0 && missing <= mostMissing ? missing : 0;
}
