/** A drawing's bytes to its text and its format. Bounded before anything is read. */
import { MOST_BYTES } from '../model/door.ts'
import { Refused } from './contours.ts'
import { drawing } from './words-drawings.ts'

export type Format = 'dxf' | 'svg'

/** The text, at most 10 MB. DXF of older kinds may be in any code page: then only its names suffer. Throws Refused. */
export function textOf(source: string | Uint8Array): string {
  if (source.length > MOST_BYTES) {
    throw new Refused(drawing.bytes(source.length), drawing.atMostBytes(MOST_BYTES))
  }
  if (typeof source === 'string') return plain(source)
  if ((source[0] === 0xff && source[1] === 0xfe) || (source[0] === 0xfe && source[1] === 0xff)) {
    throw new Refused(drawing.utf16, drawing.utf8)
  }
  try {
    return plain(new TextDecoder('utf-8', { fatal: true }).decode(source))
  } catch (error) {
    if (error instanceof Refused) throw error
    return plain(new TextDecoder('latin1').decode(source))
  }
}

/** Without a byte-order mark, and with one line end in place of the three that there are: no reader need know the others. */
export const evened = (text: string): string => text.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n')

function plain(text: string): string {
  const bare = evened(text)
  if (/^[\w ]*Binary DXF\n/.test(bare)) throw new Refused(drawing.binaryDxf, drawing.textDxf)
  const nul = bare.indexOf('\0')
  if (nul >= 0) throw new Refused(drawing.binary(nul + 1), drawing.textFile)
  if (bare.trim() === '') throw new Refused(drawing.nothing, drawing.dxfOrSvg)
  return bare
}

/** By what the text begins with: SVG with `<`, DXF with a group code. Throws Refused where it is neither. */
export function formatOf(text: string): Format {
  const begin = /\S[^\r\n]{0,40}/.exec(text)?.[0] ?? ''
  if (begin.startsWith('<')) return 'svg'
  if (/^-?\d{1,4}\s*$/.test(begin)) return 'dxf'
  throw new Refused(JSON.stringify(begin), drawing.beginnings, 1)
}
