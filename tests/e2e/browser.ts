/** The browser that ships in the test packages: unpacked once to a folder of ours, started with our own flags. */
import { execFile } from 'node:child_process'
import { existsSync, lstatSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { promisify } from 'node:util'
import chromiumPackage, { inflate } from '@sparticuz/chromium'
import { type Browser, chromium } from 'playwright-core'

const packageHome = join(dirname(createRequire(import.meta.url).resolve('@sparticuz/chromium')), '../..')

/** Without a single font the browser dies on the first input field, so a bare machine gets the package's own. */
const fontsConf = (folder: string): string => `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${folder}/fonts/fonts</dir>
  <dir>/usr/share/fonts</dir>
  <cachedir>${folder}/fonts-cache</cachedir>
</fontconfig>
`

/**
 * Unpacks the browser where no run has yet; errors if the folder of that name belongs to somebody else.
 * `libraries` is empty where the system has its own.
 */
export async function unpackBrowser(): Promise<{ executable: string; libraries: string }> {
  const { version } = JSON.parse(readFileSync(join(packageHome, 'package.json'), 'utf8')) as { version: string }
  const uid = process.getuid?.() ?? 0
  const folder = join(tmpdir(), `deckwright-browser-${version}-${uid}`)
  if (!existsSync(join(folder, 'chromium'))) {
    const staging = `${folder}-${process.pid}`
    mkdirSync(staging, { recursive: true, mode: 0o700 })
    // The package unpacks to the system's temporary folder under fixed names; a folder of our own cannot be half done or foreign.
    const before = process.env.TMPDIR
    process.env.TMPDIR = staging
    try {
      await chromiumPackage.executablePath()
      await inflate(join(packageHome, 'bin/al2023.tar.br'))
    } finally {
      if (before === undefined) delete process.env.TMPDIR
      else process.env.TMPDIR = before
    }
    try {
      renameSync(staging, folder)
    } catch (error) {
      rmSync(staging, { recursive: true, force: true })
      if (!existsSync(join(folder, 'chromium'))) throw error
    }
  }
  const fonts = join(folder, 'fonts.conf')
  if (!existsSync(fonts)) writeFileSync(fonts, fontsConf(folder))
  const owner = lstatSync(folder)
  if (!owner.isDirectory() || owner.uid !== uid) throw new Error(`${folder} belongs to somebody else; remove it`)
  const found = await promisify(execFile)('ldconfig', ['-p']).then(
    ({ stdout }) => stdout.includes('libnss3.so'),
    () => false,
  )
  return { executable: join(folder, 'chromium'), libraries: found ? '' : join(folder, 'al2023/lib') }
}

/** Starts it. `webgl: false` takes every 3D interface away, as on a machine that has none. */
export function startBrowser(executable: string, libraries: string, { webgl = true } = {}): Promise<Browser> {
  const inherited = Object.entries(process.env).filter((entry): entry is [string, string] => entry[1] !== undefined)
  const path = [libraries, process.env.LD_LIBRARY_PATH].filter(Boolean).join(':')
  return chromium.launch({
    executablePath: executable,
    headless: true,
    args: [
      '--no-sandbox',
      '--font-render-hinting=none',
      ...(webgl
        ? [
            '--use-gl=angle',
            '--use-angle=swiftshader',
            '--enable-unsafe-swiftshader',
            '--ignore-gpu-blocklist',
            // The graphics card is software here: what puts the page together is quicker without it.
            '--disable-gpu-compositing',
          ]
        : ['--disable-gpu', '--disable-3d-apis']),
    ],
    env: {
      ...Object.fromEntries(inherited),
      FONTCONFIG_FILE: join(dirname(executable), 'fonts.conf'),
      ...(path ? { LD_LIBRARY_PATH: path } : {}),
    },
  })
}
