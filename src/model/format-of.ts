/** What kind of file of ours a text says that it is. */
import type { Format } from './migrate.ts'

const FORMATS: readonly string[] = [
  'deckwright-project',
  'deckwright-layout',
  'deckwright-footprint',
  'deckwright-measures',
] satisfies Format[]

const textOf = (source: string | Uint8Array): string =>
  (typeof source === 'string' ? source : new TextDecoder().decode(source)).replace(/^\ufeff/, '')

/**
 * The kind that the file states; `json` where it is JSON without one, undefined where it is no JSON. Of a footprint alone the format may
 * be missing, as it is inside a project: what has a body and a mount is one. Never throws.
 */
export function formatOf(source: string | Uint8Array): Format | 'json' | undefined {
  try {
    const value: unknown = JSON.parse(textOf(source))
    if (typeof value !== 'object' || value === null) return 'json'
    const { format } = value as { format?: unknown }
    if (typeof format === 'string' && FORMATS.includes(format)) return format as Format
    return format === undefined && 'body' in value && 'mount' in value ? 'deckwright-footprint' : 'json'
  } catch {
    return undefined
  }
}

/** First bytes of pictures: PNG, JPEG, GIF, and WebP ("RIFF", four bytes of length, "WEBP"). From memory. */
const PICTURES: readonly RegExp[] = [/^\x89PNG\r\n/, /^\xff\xd8\xff/, /^GIF8/, /^RIFF[\s\S]{4}WEBP/]

/** What can be told of any bytes before they are read as text: that there are none, that they are a picture, that somebody wrote JSON. */
export function looksLike(source: Uint8Array): 'nothing' | 'picture' | 'json' | undefined {
  const head = String.fromCharCode(...source.subarray(0, 16))
  if (PICTURES.some((begins) => begins.test(head))) return 'picture'
  const text = textOf(source.subarray(0, 4096)).trim()
  if (text === '' && source.length <= 4096) return 'nothing'
  return /^[{[]/.test(text) ? 'json' : undefined
}
