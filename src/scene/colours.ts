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

/** Lines and letters are those of the plan. */
const PLAN = ['ink', 'sheet', 'wire', 'reserved'] as const

export type Colours = Readonly<Record<(typeof ROLES)[number] | (typeof PLAN)[number], string>>

const read = (): Colours => {
  const style = getComputedStyle(document.documentElement)
  const colour = (name: string): string => style.getPropertyValue(name).trim() || '#888888'
  return Object.fromEntries([
    ...ROLES.map((r) => [r, colour(`--solid-${r}`)]),
    ...PLAN.map((r) => [r, colour(`--${r}`)]),
  ]) as Colours
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
