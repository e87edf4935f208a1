import { createHash } from 'node:crypto';
import { open, stat } from 'node:fs/promises';

/** Both hashes a bag lists of a file, lower-case hex. */
export interface Hashes {
  sha256: string;
  sha512: string;
}

/** Takes the pieces of one file in order; the bytes may be used until the promise is kept. */
export type Taker = (piece: Uint8Array) => Promise<void>;

/** A file that was not the same from the first byte read to the last. */
export class FileChanged extends Error {}

const pieceBytes = 1 << 20;

/**
 * Reads a file once and hashes what is handed on, so that the hashes are of the bytes written and of no others. While a piece
 * is hashed, the one before the next is written and the next is read.
 * @throws FileChanged where its size or times change meanwhile; what the disk refuses
 */
export async function pour(file: string, bytes: number, take: Taker): Promise<Hashes> {
  const [sha256, sha512] = [createHash('sha256'), createHash('sha512')];
  const handle = await open(file, 'r');
  try {
    const before = await handle.stat({ bigint: true });
    let [current, spare] = [Buffer.allocUnsafeSlow(pieceBytes), Buffer.allocUnsafeSlow(pieceBytes)];
    let total = 0;
    let reading = handle.read(current, 0, pieceBytes, null);
    for (;;) {
      const { bytesRead } = await reading;
      if (bytesRead === 0) break;
      total += bytesRead;
      reading = handle.read(spare, 0, pieceBytes, null);
      // Awaited in the next round; where the writing below fails first, its fault is the one that counts.
      reading.catch(() => undefined);
      const piece = current.subarray(0, bytesRead);
      const writing = take(piece);
      writing.catch(() => undefined);
      sha256.update(piece);
      sha512.update(piece);
      await writing;
      [current, spare] = [spare, current];
    }
    const after = await stat(file, { bigint: true });
    if (total !== bytes || after.size !== before.size || after.mtimeNs !== before.mtimeNs || after.ino !== before.ino) throw new FileChanged(file);
  } finally {
    await handle.close();
  }
  return { sha256: sha256.digest('hex'), sha512: sha512.digest('hex') };
}

/** Hashes of bytes in memory. */
export function hashesOf(bytes: Uint8Array): Hashes {
  return { sha256: createHash('sha256').update(bytes).digest('hex'), sha512: createHash('sha512').update(bytes).digest('hex') };
}
