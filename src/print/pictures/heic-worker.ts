// Runs in a thread of its own: decoding blocks for half a second and takes some hundred megabytes.
import { createRequire } from 'node:module';
import { parentPort } from 'node:worker_threads';
import type { HeicAnswer, HeicQuestion } from './heic.ts';

/** An object of the library; `ptr` is where it lies in the library's memory. */
interface Handle {
  $$: { ptr: number };
}

/** A picture inside a file, as libheif-js hands it out. */
interface HeifImage {
  handle: Handle;
  get_width(): number;
  get_height(): number;
  is_primary(): boolean;
  free(): void;
}

interface Decoded {
  image: Handle;
  channels: { id: unknown; width: number; height: number; stride: number; data: Uint8Array }[];
}

/** What is used of libheif-js 1.23: its own wrapper keeps back the warnings, so its parts are called here. */
interface LibHeif {
  HeifDecoder: new () => { decode(bytes: Uint8Array): HeifImage[] };
  heif_colorspace: { heif_colorspace_RGB: unknown };
  heif_chroma: { heif_chroma_interleaved_RGBA: unknown };
  heif_channel: { heif_channel_interleaved: unknown };
  heif_js_decode_image2(handle: Handle, space: unknown, chroma: unknown): Promise<Decoded | { code: unknown; message?: string }>;
  heif_image_release(image: Handle): void;
  /** Copies up to `most` structs of three 32-bit words to `at`, the third being the address of a text; tells how many there are where `most` is 0. */
  _heif_image_get_decoding_warnings(image: number, first: number, at: number, most: number): number;
  _malloc(bytes: number): number;
  _free(at: number): void;
  HEAPU8: Uint8Array;
  HEAPU32: Uint32Array;
}

// The package has no types for this entry; it is CommonJS with the WebAssembly inside.
const library = createRequire(import.meta.url)('libheif-js/wasm-bundle') as LibHeif;
const decoder = new library.HeifDecoder();

// The library complains on the console; what it says last is the reason.
let complaint = '';
console.log = (...words: unknown[]) => {
  complaint = words.map((word) => (typeof word === 'object' && word !== null && 'message' in word ? String(word.message) : typeof word === 'string' ? word : '')).filter(Boolean).join(': ');
};

/** What the decoder went on in spite of: tiles that are missing or broken. Empty where the picture is whole. */
function warningOf(image: Handle): string {
  if (library._heif_image_get_decoding_warnings(image.$$.ptr, 0, 0, 0) < 1) return '';
  const at = library._malloc(12);
  library._heif_image_get_decoding_warnings(image.$$.ptr, 0, at, 1);
  const from = library.HEAPU32[at / 4 + 2] ?? 0;
  library._free(at);
  const words = Buffer.from(library.HEAPU8.subarray(from, library.HEAPU8.indexOf(0, from))).toString('utf8').trim();
  return words || 'parts of it cannot be decoded';
}

async function pixelsOf(image: HeifImage): Promise<HeicAnswer> {
  const { heif_colorspace: space, heif_chroma: chroma, heif_channel: channel } = library;
  const found = await library.heif_js_decode_image2(image.handle, space.heif_colorspace_RGB, chroma.heif_chroma_interleaved_RGBA);
  if ('code' in found) return { fault: found.message || complaint || 'the decoder does not say why' };
  try {
    const plane = found.channels.find(({ id }) => id === channel.heif_channel_interleaved);
    if (!plane) return { fault: 'no colours in it' };
    const { width, height, stride } = plane;
    const data = new Uint8Array(width * height * 4);
    for (let y = 0; y < height; y += 1) data.set(plane.data.subarray(y * stride, y * stride + width * 4), y * width * 4);
    return { data: data.buffer, width, height, warning: warningOf(found.image) };
  } finally {
    library.heif_image_release(found.image);
  }
}

async function answer({ bytes, pixelLimit }: HeicQuestion): Promise<HeicAnswer> {
  complaint = '';
  const images = decoder.decode(bytes);
  try {
    const image = images.find((one) => one.is_primary()) ?? images[0];
    if (!image) return { fault: complaint || 'no picture in it' };
    const [width, height] = [image.get_width(), image.get_height()];
    if (width * height > pixelLimit || width * height < 1) return { fault: `a picture of ${width} by ${height} pixels` };
    return await pixelsOf(image);
  } finally {
    for (const image of images) image.free();
  }
}

parentPort?.on('message', (question: HeicQuestion) => {
  void answer(question)
    .catch((error: unknown): HeicAnswer => ({ fault: error instanceof Error ? error.message : String(error) }))
    .then((found) => parentPort?.postMessage(found, 'data' in found ? [found.data] : []));
});
