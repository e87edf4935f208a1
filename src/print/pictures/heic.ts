import { Worker } from 'node:worker_threads';

/** Asked of the worker. */
export interface HeicQuestion {
  bytes: Uint8Array;
  pixelLimit: number;
}

/**
 * The main picture of the file: red, green, blue, alpha, turned upright already; `warning` says what is broken in it,
 * empty where all is well. Or why there is none.
 */
export type HeicAnswer = { data: ArrayBuffer; width: number; height: number; warning: string } | { fault: string };

/** Decodes HEIF pictures packed as HEVC, which prebuilt libvips cannot; one at a time. */
export interface HeicDecoder {
  /** Never rejects but when aborted. `fault` starts with `timeout` where it took too long. */
  decode(bytes: Uint8Array, signal?: AbortSignal): Promise<HeicAnswer>;
  /** Ends the thread and gives its memory back. */
  close(): Promise<void>;
}

/** The worker lies beside this file, in TypeScript in a checkout, in JavaScript once packed. */
const workerFile = new URL(`./heic-worker${import.meta.url.endsWith('.ts') ? '.ts' : '.js'}`, import.meta.url);

/** A decoder whose thread starts on first need. A picture that takes longer than `seconds` costs its thread, not the job. */
export function heicDecoder({ seconds, pixelLimit }: { seconds: number; pixelLimit: number }): HeicDecoder {
  let worker: Worker | null = null;
  let last: Promise<unknown> = Promise.resolve();

  async function end(): Promise<void> {
    const old = worker;
    worker = null;
    await old?.terminate();
  }

  async function ask(bytes: Uint8Array, signal?: AbortSignal): Promise<HeicAnswer> {
    signal?.throwIfAborted();
    // What it prints is for us, not for the terminal.
    worker ??= new Worker(workerFile, { stdout: true, stderr: true });
    const now = worker;
    const quiet = new AbortController();
    const heard = await new Promise<HeicAnswer | 'aborted'>((resolve) => {
      const timer = setTimeout(() => resolve({ fault: `timeout: ${seconds} seconds passed` }), seconds * 1000);
      const settle = (answer: HeicAnswer | 'aborted'): void => {
        clearTimeout(timer);
        resolve(answer);
      };
      const broken = (error: Error): void => settle({ fault: error.message });
      const left = (): void => settle({ fault: 'the decoder ended' });
      now.once('message', settle).once('error', broken).once('exit', left);
      signal?.addEventListener('abort', () => settle('aborted'), { signal: quiet.signal });
      now.postMessage({ bytes, pixelLimit } satisfies HeicQuestion);
    });
    quiet.abort();
    now.removeAllListeners('message').removeAllListeners('error').removeAllListeners('exit');
    // A thread that failed once may have lost its memory; the next picture gets a new one.
    if (heard === 'aborted' || 'fault' in heard) await end();
    if (heard !== 'aborted') return heard;
    signal?.throwIfAborted();
    return { fault: 'aborted' };
  }

  return {
    decode(bytes, signal) {
      const mine = last.then(() => ask(bytes, signal));
      last = mine.catch(() => undefined);
      return mine;
    },
    async close() {
      await last;
      await end();
    },
  };
}
