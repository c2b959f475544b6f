/** Serves a folder of built files on this machine alone: GET and HEAD, no listing, nothing outside the folder. */
import { createReadStream, statSync } from 'node:fs'
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import { extname, join, normalize, sep } from 'node:path'

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
}

/** The build puts a hash into these names, so that what stands under one never changes. All else is asked for again each time. */
const HASHED = /^\/assets\/.*-[\w-]{8}\.\w+$/

const cachingOf = (path: string): string => {
  if (HASHED.test(path)) return 'public, max-age=31536000, immutable'
  // The service worker: a newer page is found out by this file alone.
  return path === '/offline.js' ? 'no-store' : 'no-cache'
}

/** Both loopback addresses: which of them `localhost` means differs from machine to machine. */
const HOSTS = ['127.0.0.1', '::1']

export interface Served {
  readonly port: number
  readonly close: () => void
}

/** Serves `folder` on `port` or, where that is taken, on the next one that is free. Throws where none of 100 is. */
export async function serve(folder: string, port: number): Promise<Served> {
  for (let tried = port; tried < port + 100 && tried <= 65535; tried++) {
    const servers = await onPort(folder, tried)
    if (!servers) continue
    const [first] = servers
    const address = first!.address()
    return {
      port: typeof address === 'object' && address ? address.port : tried,
      close: () => {
        for (const s of servers) s.close()
      },
    }
  }
  throw new Error(`no free port from ${port} on`)
}

/** Listens on both addresses; undefined where one of them is taken. A machine without the second does with the first. */
async function onPort(folder: string, port: number): Promise<Server[] | undefined> {
  const servers: Server[] = []
  let chosen = port
  for (const host of HOSTS) {
    const server = createServer((request, response) => answer(folder, request, response))
    const failed = await new Promise<string | undefined>((settle) => {
      server.once('error', (error: NodeJS.ErrnoException) => settle(error.code ?? 'error'))
      server.listen(chosen, host, () => settle(undefined))
    })
    if (failed === undefined) {
      servers.push(server)
      const address = server.address()
      // Port 0 lets the system choose once, for both.
      if (typeof address === 'object' && address) chosen = address.port
    } else if (failed === 'EADDRINUSE' || failed === 'EACCES') {
      for (const s of servers) s.close()
      return undefined
    }
  }
  return servers.length > 0 ? servers : undefined
}

function answer(folder: string, request: IncomingMessage, response: ServerResponse): void {
  const reads = request.method === 'GET' || request.method === 'HEAD'
  const file = fileOf(folder, request.url ?? '/')
  const there = file === undefined ? undefined : statSync(file, { throwIfNoEntry: false })
  if (!reads || file === undefined || !there?.isFile()) {
    response.writeHead(reads ? 404 : 405, { 'content-type': 'text/plain; charset=utf-8' })
    response.end('not here\n')
    return
  }
  response.writeHead(200, {
    'content-type': types[extname(file)] ?? 'application/octet-stream',
    'content-length': there.size,
    'cache-control': cachingOf(file.slice(folder.length).split(sep).join('/')),
    'x-content-type-options': 'nosniff',
  })
  if (request.method === 'HEAD') {
    response.end()
    return
  }
  createReadStream(file)
    .on('error', () => response.destroy())
    .pipe(response)
}

function fileOf(folder: string, url: string): string | undefined {
  try {
    const path = decodeURIComponent(new URL(url, 'http://localhost').pathname)
    if (path.includes('\0')) return undefined
    const file = normalize(join(folder, path.endsWith('/') ? `${path}index.html` : path))
    return file.startsWith(folder + sep) ? file : undefined
  } catch {
    return undefined
  }
}
