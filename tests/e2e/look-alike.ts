/** Pictures of views, kept small, and how far two of them are apart. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { PNG } from 'pngjs'

const FOLDER = 'tests/fixtures/looks'
/** A channel further apart than this (of 255) makes a pixel another one; letters drawn a little differently stay below it at half size. */
const FAR = 48
/** Share of pixels that may be other ones. */
const MOST = 0.01

/** At half its size, each pixel the mean of four. */
function halved(png: PNG): PNG {
  const small = new PNG({ width: png.width >> 1, height: png.height >> 1 })
  for (let y = 0; y < small.height; y++)
    for (let x = 0; x < small.width; x++)
      for (let c = 0; c < 4; c++) {
        const at = (dx: number, dy: number): number => png.data[((2 * y + dy) * png.width + 2 * x + dx) * 4 + c]!
        small.data[(y * small.width + x) * 4 + c] = Math.round((at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) / 4)
      }
  return small
}

/** Share of pixels, 0 to 1, that are other ones; 1 where the sizes differ. */
export function apart(a: PNG, b: PNG): number {
  if (a.width !== b.width || a.height !== b.height) return 1
  let other = 0
  for (let at = 0; at < a.data.length; at += 4)
    if ([0, 1, 2].some((c) => Math.abs(a.data[at + c]! - b.data[at + c]!) > FAR)) other++
  return other / (a.width * a.height)
}

/**
 * What is wrong with how the page looks now, as a sentence; undefined where it looks as it did. `DECKWRIGHT_LOOKS=keep` keeps what is
 * seen now. `hide` is painted over: what depends on the clock.
 */
export async function looksOther(page: Page, name: string, hide: readonly Locator[] = []): Promise<string | undefined> {
  // One font for all machines: the one that the test browser brings along.
  await page.addStyleTag({
    content: ':root { --talk: "Open Sans"; --label: "Open Sans" } * { caret-color: transparent }',
  })
  await page.evaluate(() => document.fonts.ready)
  const shot = await page.screenshot({ animations: 'disabled', mask: [...hide], maskColor: '#808080' })
  const seen = halved(PNG.sync.read(shot))
  const file = join(FOLDER, `${name}.png`)
  if (process.env.DECKWRIGHT_LOOKS === 'keep') {
    mkdirSync(FOLDER, { recursive: true })
    writeFileSync(file, PNG.sync.write(seen))
    return undefined
  }
  if (!existsSync(file)) return `${file} is not there: look at the page, and keep it with DECKWRIGHT_LOOKS=keep`
  const share = apart(PNG.sync.read(readFileSync(file)), seen)
  if (share <= MOST) return undefined
  const now = join(tmpdir(), `deckwright-look-${name}.png`)
  writeFileSync(now, PNG.sync.write(seen))
  return `${name}: ${(100 * share).toFixed(1)} % of the pixels are other ones than in ${file}; as it is now: ${now}`
}
