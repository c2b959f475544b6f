/** What kind of file of ours a text says that it is. */
import type { Format } from './migrate.ts'

const FORMATS: readonly string[] = [
  'deckwright-project',
  'deckwright-layout',
  'deckwright-footprint',
  'deckwright-measures',
] satisfies Format[]

/** The kind that the file states; `json` where it is JSON without one, undefined where it is no JSON. Never throws. */
export function formatOf(source: string | Uint8Array): Format | 'json' | undefined {
  try {
    const text = typeof source === 'string' ? source : new TextDecoder().decode(source)
    const value: unknown = JSON.parse(text.replace(/^\ufeff/, ''))
    const stated = typeof value === 'object' && value !== null ? (value as { format?: unknown }).format : undefined
    return typeof stated === 'string' && FORMATS.includes(stated) ? (stated as Format) : 'json'
  } catch {
    return undefined
  }
}
