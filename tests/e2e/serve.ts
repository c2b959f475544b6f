/** The page as it is built, on a free loopback port. */
import { execFile } from 'node:child_process'
import { createReadStream, existsSync, mkdtempSync, rmSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { extname, join, normalize } from 'node:path'
import { promisify } from 'node:util'

const types: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
}

/** Builds the page of the checkout at `home` and serves it until `close`. */
export async function servePage(
  home: string,
): Promise<{ readonly address: string; readonly close: () => Promise<void> }> {
  const vite = join(home, 'node_modules/vite/bin/vite.js')
  // A folder of its own: whoever builds the page meanwhile must not take this one away.
  const root = mkdtempSync(join(tmpdir(), 'deckwright-page-'))
  const args = [vite, 'build', '--logLevel', 'warn', '--outDir', root]
  // The page as it is handed out: the tests' own NODE_ENV would bring in React's slower and larger parts for development.
  await promisify(execFile)(process.execPath, args, { cwd: home, env: { ...process.env, NODE_ENV: 'production' } })
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname))
    const file = join(root, path === '/' ? 'index.html' : path)
    if (!file.startsWith(root) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end()
      return
    }
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream' })
    createReadStream(file).pipe(response)
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections()
        server.close(() => {
          rmSync(root, { recursive: true, force: true })
          done()
        })
      }),
  }
}
