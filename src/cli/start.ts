/** `npm start`: the first demo compared, then the page, served until Ctrl-C. Both are built before. */
import { spawn } from 'node:child_process'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { serve } from './serve.ts'

/** Where the bundle stands: dist/cli. */
const here = dirname(fileURLToPath(import.meta.url))
const root = join(here, '../..')
/** Seconds for each variant of the demo: four times what its proof takes on two idle cores, so that the address comes soon on a slow machine too. */
const DEMO_TIME = '15'

/** Runs a command of ours as a user would, its output to the screen. */
function show(args: readonly string[]): Promise<number | null> {
  const child = spawn(process.execPath, [join(here, 'deckwright.js'), ...args], { cwd: root, stdio: 'inherit' })
  return new Promise((settle) => child.once('close', settle))
}

async function answers(url: string): Promise<boolean> {
  for (let tries = 0; tries < 50; tries++) {
    try {
      const response = await fetch(url)
      if (response.ok && (await response.text()).includes('<html')) return true
    } catch {
      // Not yet.
    }
    await new Promise((go) => setTimeout(go, 100))
  }
  return false
}

async function start(): Promise<number> {
  const wanted = process.env.PORT ?? ''
  const port = wanted === '' ? 5173 : /^\d{1,5}$/.test(wanted) ? Number(wanted) : Number.NaN
  if (!(port <= 65535)) {
    process.stderr.write(`PORT: found ${JSON.stringify(wanted)}, expected a port number from 0 to 65535\n`)
    return 2
  }
  const served = await serve(join(root, 'dist/page'), port)
  // A demo without an answer is no reason to keep the page back.
  await show(['compare', 'demo-data/greenhouse-scout.json', '--time', DEMO_TIME])
  const url = `http://localhost:${served.port}/`
  if (!(await answers(url))) {
    process.stderr.write(`${url} does not answer: is dist/page built?\n`)
    served.close()
    return 1
  }
  process.stdout.write(`\n${url}\n`)
  await new Promise<void>((stop) => {
    process.once('SIGINT', stop)
    process.once('SIGTERM', stop)
  })
  return 0
}

process.exit(await start())
