/** `npm start` as typed: table, address, page, Ctrl-C; and the small server behind it. */
import { spawn } from 'node:child_process'
import { cpSync, mkdirSync, readdirSync, readFileSync, symlinkSync } from 'node:fs'
import { createServer } from 'node:http'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { serve } from '../../src/cli/serve.ts'
import { folder, root } from './cli.ts'

/** A checkout of its own: `npm start` builds anew, and others run the commands that are built here meanwhile. */
function checkout(): { readonly path: string; readonly remove: () => void } {
  const copy = folder()
  for (const name of readdirSync(root))
    if (!['node_modules', 'dist', 'tests', '.git'].includes(name))
      cpSync(join(root, name), join(copy.path, name), { recursive: true })
  symlinkSync(join(root, 'node_modules'), join(copy.path, 'node_modules'))
  return copy
}

describe('npm start', () => {
  const home = checkout()
  afterAll(() => home.remove())

  it('shows the first demo compared, then the address of a page that answers, and ends at Ctrl-C', async () => {
    const from = performance.now()
    // Built as for a user, not as for tests. A group of its own, so that Ctrl-C reaches all of it, as from a keyboard.
    const child = spawn('npm', ['start'], {
      cwd: home.path,
      detached: true,
      env: { ...process.env, NODE_ENV: 'production', PORT: '5390' },
    })
    let out = ''
    let err = ''
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      err += text
    })
    const url = await new Promise<string>((found, lost) => {
      child.stdout.setEncoding('utf8').on('data', (text: string) => {
        out += text
        const address = /^http:\/\/localhost:\d+\/$/m.exec(out)
        if (address) found(address[0])
      })
      child.once('close', () => lost(new Error(`ended early: ${out}`)))
    })
    expect(performance.now() - from).toBeLessThan(45_000)
    const port = Number(new URL(url).port)
    expect(port).toBeGreaterThanOrEqual(5390)
    expect(port).toBeLessThan(5490)
    expect(out).toMatch(/^variant/m)
    expect(out).toContain('controller in the middle')
    expect(out.indexOf('variant')).toBeLessThan(out.indexOf(url))
    const page = await (await fetch(url)).text()
    expect(page).toContain('<title>Deckwright</title>')
    const ended = new Promise((settle) => child.once('close', settle))
    process.kill(-child.pid!, 'SIGINT')
    await ended
    await expect(fetch(url)).rejects.toThrow()
    // The build has nothing to warn of.
    expect(err).not.toMatch(/plugin/i)
  })

  it('loads no 3D before the first paint', () => {
    const assets = join(home.path, 'dist/page/assets')
    const page = readFileSync(join(home.path, 'dist/page/index.html'), 'utf8')
    const seen = new Set<string>()
    const visit = (name: string): void => {
      if (seen.has(name)) return
      seen.add(name)
      const text = readFileSync(join(assets, name), 'utf8')
      for (const m of text.matchAll(/\b(?:from|import)\s*["']\.\/([\w-]+\.js)["']/g)) visit(m[1]!)
    }
    for (const m of page.matchAll(/assets\/([\w-]+\.js)/g)) visit(m[1]!)
    expect(seen.size).toBeGreaterThan(1)
    expect([...seen].filter((name) => /^(three|scene)-/.test(name))).toEqual([])
    expect(readdirSync(assets).some((name) => name.startsWith('three-'))).toBe(true)
  })
})

describe('the server', () => {
  const here = folder()
  here.put('index.html', '<html>page</html>')
  here.put('a.js', '0')
  here.put('offline.js', '0')
  mkdirSync(join(here.path, 'assets'))
  here.put('assets/index-Ab_3-x9Z.js', '0')

  it('serves the folder and nothing beside it, on this machine alone', async () => {
    const served = await serve(here.path, 0)
    const base = `http://localhost:${served.port}`
    expect(await (await fetch(`${base}/`)).text()).toBe('<html>page</html>')
    expect((await fetch(`${base}/a.js`)).headers.get('content-type')).toContain('javascript')
    const caching = async (path: string) => (await fetch(base + path)).headers.get('cache-control')
    expect(await caching('/')).toBe('no-cache')
    expect(await caching('/offline.js')).toBe('no-store')
    expect(await caching('/assets/index-Ab_3-x9Z.js')).toContain('immutable')
    for (const path of ['/none', '/..%2f..%2fetc%2fpasswd', '/%00', '/%']) {
      expect((await fetch(base + path)).status).toBe(404)
    }
    expect((await fetch(`${base}/`, { method: 'POST' })).status).toBe(405)
    served.close()
    here.remove()
  })

  it('takes the next port where one is taken', async () => {
    const other = createServer()
    await new Promise<void>((go) => other.listen(0, '127.0.0.1', go))
    const taken = (other.address() as { port: number }).port
    const served = await serve(root, taken)
    expect(served.port).toBeGreaterThan(taken)
    served.close()
    other.close()
  })
})
