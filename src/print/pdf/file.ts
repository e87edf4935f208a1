import { closeSync, fstatSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { PDFNumber, PDFRawStream, PDFRef, PDFStream } from 'pdf-lib';
import type { PDFContext, PDFObject } from 'pdf-lib';

/** A PDF on its way to the disk. What is written is not kept: only where it lies. */
export interface PdfFile {
  /** Writes an object that the context does not hold. */
  write(ref: PDFRef, object: PDFObject): void;
  /** Writes what the context still holds, the table of where everything lies, and the end. */
  finish(): void;
  /** Takes away what was written of a document that will not be whole. */
  discard(): void;
}

/** Small objects are packed together by so many, as compressing each by itself gains nothing. */
const objectsPerPack = 100;

/** Where an object lies (ISO 32000-1, table 18): 1, offset, 0 by itself; 2, number of the pack, place in it. */
type Entry = readonly [kind: 1 | 2, place: number, index: number];

/**
 * Begins a PDF 1.7 file whose memory does not grow with the pictures in it. Streams stand by themselves, all else in
 * object streams with a cross-reference stream (ISO 32000-1, 7.5.7 and 7.5.8; PDF/A-2 and 3 take both). Throws what the
 * disk refuses.
 */
export function openPdfFile(context: PDFContext, name: string): PdfFile {
  const entries = new Map<number, Entry>();
  const descriptor = openSync(name, 'w');
  let offset = 0;
  let pack: { number: number; bytes: Uint8Array }[] = [];

  function put(bytes: Uint8Array): void {
    for (let done = 0; done < bytes.length; ) done += writeSync(descriptor, bytes, done);
    offset += bytes.length;
  }

  function putWhole(ref: PDFRef, object: PDFObject): void {
    entries.set(ref.objectNumber, [1, offset, 0]);
    put(Buffer.from(`${ref.objectNumber} 0 obj\n`));
    for (const part of partsOf(object)) put(part);
    put(Buffer.from('\nendobj\n'));
  }

  function write(ref: PDFRef, object: PDFObject): void {
    if (object instanceof PDFStream) return putWhole(ref, object);
    pack.push({ number: ref.objectNumber, bytes: bytesOf(object) });
    if (pack.length === objectsPerPack) closePack();
  }

  function closePack(): void {
    if (pack.length === 0) return;
    const ref = context.nextRef();
    let size = 0;
    let head = '';
    for (const [index, { number, bytes }] of pack.entries()) {
      entries.set(number, [2, ref.objectNumber, index]);
      head += `${number} ${size} `;
      size += bytes.length + 1;
    }
    const content = Buffer.concat([Buffer.from(head), ...pack.flatMap(({ bytes }) => [bytes, lineEnd])]);
    // pdf-lib's own deflate: that of Node differs from one processor to another.
    putWhole(ref, context.flateStream(content, { Type: 'ObjStm', N: pack.length, First: head.length }));
    pack = [];
  }

  function finish(): void {
    for (const [ref, object] of context.enumerateIndirectObjects()) write(ref, object);
    closePack();
    const ref = context.nextRef();
    const start = offset;
    entries.set(ref.objectNumber, [1, start, 0]);
    const size = ref.objectNumber + 1;
    const { Root, Info, ID } = context.trailerInfo;
    putWhole(ref, context.flateStream(tableOf(entries, size), { Type: 'XRef', Size: PDFNumber.of(size), W: context.obj([1, 5, 2]), Root, Info, ID }));
    put(Buffer.from(`startxref\n${start}\n%%EOF\n`));
    closeSync(descriptor);
  }

  // Four bytes above 127 tell every tool that it is no text.
  put(Buffer.concat([Buffer.from('%PDF-1.7\n%'), Buffer.from([0xe2, 0xe3, 0xcf, 0xd3]), lineEnd]));
  return {
    write,
    finish,
    discard() {
      closeSync(descriptor);
      rmSync(name, { force: true });
    },
  };
}

/**
 * Reads whole files one after the other into the same memory: what was read before is gone with the next call. Throws
 * where a file cannot be opened or grows shorter meanwhile.
 */
export function fileReader(): (name: string) => Uint8Array {
  let room = Buffer.alloc(0);
  return (name) => {
    const descriptor = openSync(name, 'r');
    try {
      const { size } = fstatSync(descriptor);
      if (room.length < size) room = Buffer.allocUnsafeSlow(size + (size >> 1));
      let done = 0;
      while (done < size) {
        const read = readSync(descriptor, room, done, size - done, null);
        if (read === 0) throw new Error(`${name} became shorter while it was read`);
        done += read;
      }
      return room.subarray(0, size);
    } finally {
      closeSync(descriptor);
    }
  };
}

const lineEnd = Buffer.from('\n');

/** An object's bytes; a stream's in parts, as a copy of each picture would be most of the memory taken. */
function partsOf(object: PDFObject): Uint8Array[] {
  if (!(object instanceof PDFRawStream)) return [bytesOf(object)];
  object.updateDict();
  return [bytesOf(object.dict), Buffer.from('\nstream\n'), object.contents, Buffer.from('\nendstream')];
}

function bytesOf(object: PDFObject): Uint8Array {
  const bytes = new Uint8Array(object.sizeInBytes());
  object.copyBytesInto(bytes, 0);
  return bytes;
}

/** Rows of one, five and two bytes; a number without an object is a free one. */
function tableOf(entries: ReadonlyMap<number, Entry>, size: number): Uint8Array {
  const rows = Buffer.alloc(size * 8);
  for (const [number, [kind, place, index]] of entries) {
    rows[number * 8] = kind;
    rows.writeUIntBE(place, number * 8 + 1, 5);
    rows.writeUInt16BE(index, number * 8 + 6);
  }
  rows.writeUInt16BE(65_535, 6);
  return rows;
}
