/** A drawing's bytes to its text and its format. Bounded before anything is read. */
import { MOST_BYTES } from '../model/door.ts'
import { Refused } from './contours.ts'

export type Format = 'dxf' | 'svg'

/** The text, at most 10 MB. DXF of older kinds may be in any code page: then only its names suffer. Throws Refused. */
export function textOf(source: string | Uint8Array): string {
  if (source.length > MOST_BYTES) {
    throw new Refused(`${source.length} bytes or more`, `at most ${MOST_BYTES} bytes (10 MB)`)
  }
  if (typeof source === 'string') return plain(source)
  if ((source[0] === 0xff && source[1] === 0xfe) || (source[0] === 0xfe && source[1] === 0xff)) {
    throw new Refused('UTF-16 text', 'UTF-8 text')
  }
  try {
    return plain(new TextDecoder('utf-8', { fatal: true }).decode(source))
  } catch (error) {
    if (error instanceof Refused) throw error
    return plain(new TextDecoder('latin1').decode(source))
  }
}

function plain(text: string): string {
  const bare = text.startsWith('\ufeff') ? text.slice(1) : text
  if (/^[\w ]*Binary DXF\r?\n/.test(bare)) throw new Refused('a binary DXF file', 'DXF as text (ASCII)')
  const nul = bare.indexOf('\0')
  if (nul >= 0) throw new Refused(`binary data (a zero byte at byte ${nul + 1})`, 'a DXF or SVG file, which is text')
  if (bare.trim() === '') throw new Refused('nothing', 'a DXF or SVG file')
  return bare
}

/** By what the text begins with: SVG with `<`, DXF with a group code. Throws Refused where it is neither. */
export function formatOf(text: string): Format {
  const begin = /\S[^\r\n]{0,40}/.exec(text)?.[0] ?? ''
  if (begin.startsWith('<')) return 'svg'
  if (/^-?\d{1,4}\s*$/.test(begin)) return 'dxf'
  throw new Refused(
    JSON.stringify(begin),
    'a DXF file, which begins with a group code, or an SVG file, which begins with <',
    1,
  )
}
