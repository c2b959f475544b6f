/** The page's colours by role, for materials: read once and again when light turns to dark. */
import { useEffect, useState } from 'react'

const ROLES = [
  'ground',
  'deck',
  'body',
  'board',
  'free',
  'covered',
  'sweep',
  'corridor',
  'warning',
  'held',
  'edge',
] as const

export type Colours = Readonly<Record<(typeof ROLES)[number], string>>

const read = (): Colours => {
  const style = getComputedStyle(document.documentElement)
  return Object.fromEntries(
    ROLES.map((r) => [r, style.getPropertyValue(`--solid-${r}`).trim() || '#888888']),
  ) as Colours
}

export function useColours(): Colours {
  const [colours, setColours] = useState(read)
  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)')
    const again = (): void => setColours(read())
    dark.addEventListener('change', again)
    return () => dark.removeEventListener('change', again)
  }, [])
  return colours
}
