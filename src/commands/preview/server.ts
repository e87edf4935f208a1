import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { changesAddress, emptyPage, previewPage } from './page.ts';
import type { PreviewState } from './page.ts';

/** A preview that is being served. */
export interface PreviewServer {
  /** `http://127.0.0.1:4321/` */
  address: string;
  /** Every open page loads itself again. */
  changed(): void;
  close(): Promise<void>;
}

const types: Readonly<Record<string, string>> = { '.html': 'text/html; charset=utf-8', '.jpg': 'image/jpeg', '.json': 'application/json', '.txt': 'text/plain; charset=utf-8', '.csv': 'text/csv; charset=utf-8' };

/**
 * Serves the pages of `site` and the pictures of `pictures`, to this machine only. Nothing outside these two folders is
 * read, and a page of another site that learnt the port gets no answer.
 * @param port 0 for any that is free
 * @param state what stands above the pages, asked anew for each
 * @throws EADDRINUSE where the port is taken
 */
export async function servePreview(options: { site: string; pictures: string; port: number; state: () => PreviewState }): Promise<PreviewServer> {
  const open = new Set<ServerResponse>();
  const server = createServer((request, response) => {
    answer(request, response, options, open).catch(() => end(response, 500, 'This page could not be read.'));
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(options.port, '127.0.0.1', resolve);
  });
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    changed() {
      for (const response of open) response.write('event: change\ndata:\n\n');
    },
    async close() {
      for (const response of open) response.end();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

async function answer(request: IncomingMessage, response: ServerResponse, options: Parameters<typeof servePreview>[0], open: Set<ServerResponse>): Promise<void> {
  if (!/^(127\.0\.0\.1|localhost)(:\d+)?$/.test(request.headers.host ?? '')) return end(response, 403, 'This preview is for this machine only.');
  const name = nameOf(request.url ?? '/');
  if (name === null) return end(response, 400, 'No such address.');
  if (`/${name}` === changesAddress) {
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
    response.write('retry: 500\n\n');
    open.add(response);
    response.once('close', () => open.delete(response));
    return;
  }
  // Browsers ask for it unasked, and tell people of an answer that it is not there.
  if (name === 'favicon.ico') {
    response.writeHead(204).end();
    return;
  }
  const picture = /^photos\/([^/]+\.jpg)$/.exec(name)?.[1];
  const file = picture === undefined ? path.join(options.site, name) : path.join(options.pictures, picture);
  const bytes = await readFile(file).catch(() => null);
  const type = types[path.extname(name)];
  if (name.endsWith('.html')) {
    const page = bytes ? previewPage(bytes.toString('utf8'), options.state()) : emptyPage(options.state());
    return end(response, bytes ? 200 : 404, page, types['.html']);
  }
  if (!bytes || type === undefined) return end(response, 404, 'The preview does not have this file.');
  end(response, 200, bytes, type);
}

/** The file an address asks for, with `/`; null where it leads out of the folder. */
function nameOf(url: string): string | null {
  try {
    const name = decodeURIComponent(url.replace(/[?#].*$/, '')).slice(1);
    if (name.includes('\\') || name.includes('\0') || name.split('/').includes('..')) return null;
    return name === '' ? 'index.html' : name;
  } catch {
    return null;
  }
}

function end(response: ServerResponse, code: number, body: string | Buffer, type = 'text/plain; charset=utf-8'): void {
  response.writeHead(code, { 'content-type': type, 'cache-control': 'no-store', 'x-content-type-options': 'nosniff' });
  response.end(body);
}
