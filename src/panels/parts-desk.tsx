/** The desk for parts around the page: its shortcut, its double click on the deck, and what opens by them. */
import { lazy, type ReactNode, Suspense, useEffect } from 'react'
import { useStore } from 'zustand'
import type { DeckPoint, PartsDesk, Search } from '../store/parts-desk.ts'
// Not lazy: whoever opens it types on at once, and keys that come before the line would be lost.
import PartsSearch from './parts-search.tsx'
import { beside, Desk } from './parts-use.ts'
import './parts-desk.css'

const loadEditor = () => import('./footprint-editor.tsx')
const FootprintEditor = lazy(loadEditor)

/** Where a double click or the shortcut on nothing opens the line: at that point, and of the deck if one lies there. */
function searchAt(x: number, y: number): Search | undefined {
  const target = document.elementFromPoint(x, y)
  const svg = target?.closest('svg.plan')
  if (!svg?.querySelector('g[data-deck]') || target?.closest('dialog')) return undefined
  const at = deckPoint(svg, x, y)
  return at && { x: x + 8, y: y + 8, at }
}

/** The point of a deck under the pointer; the plan's decks say by `data-deck` which they are. */
function deckPoint(svg: Element, x: number, y: number): DeckPoint | undefined {
  for (const group of svg.querySelectorAll<SVGGElement>('g[data-deck]')) {
    const matrix = group.getScreenCTM()?.inverse()
    const outline = group.querySelector<SVGPathElement>('path.deck')
    if (!matrix || !outline) continue
    const at = new DOMPoint(x, y).matrixTransform(matrix)
    const box = outline.getBBox()
    if (at.x < box.x || at.y < box.y || at.x > box.x + box.width || at.y > box.y + box.height) continue
    return { deck: Number(group.dataset.deck), x: Math.round(at.x * 1000), y: Math.round(at.y * 1000) }
  }
  return undefined
}

function useOpeners(desk: PartsDesk): void {
  useEffect(() => {
    let pointer: { x: number; y: number } | undefined
    const point = (event: PointerEvent): void => {
      pointer = { x: event.clientX, y: event.clientY }
    }
    const press = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey) return
      if ((event.target as Element | null)?.closest?.('dialog, input, textarea')) return
      event.preventDefault()
      const focus = document.activeElement
      // Where nothing has the focus the pointer says where.
      const free = focus === null || focus === document.body
      desk.search((free && pointer && searchAt(pointer.x, pointer.y)) || beside(free ? null : focus))
    }
    const twice = (event: MouseEvent): void => {
      const search = searchAt(event.clientX, event.clientY)
      if (!search) return
      event.preventDefault()
      desk.search(search)
    }
    window.addEventListener('pointermove', point)
    window.addEventListener('keydown', press)
    window.addEventListener('dblclick', twice)
    return () => {
      window.removeEventListener('pointermove', point)
      window.removeEventListener('keydown', press)
      window.removeEventListener('dblclick', twice)
    }
  }, [desk])
}

export function WithParts({ desk, children }: { desk: PartsDesk; children: ReactNode }) {
  useOpeners(desk)
  const search = useStore(desk.store, (s) => s.search)
  const describing = useStore(desk.store, (s) => s.describing)
  const searching = search !== undefined
  useEffect(() => {
    // What is described next stands there without a wait.
    if (searching) void loadEditor().catch(() => {})
  }, [searching])
  return (
    <Desk value={desk}>
      {children}
      {search && <PartsSearch key={`${search.x} ${search.y} ${search.swap}`} search={search} />}
      <Suspense fallback={null}>{describing && <FootprintEditor describing={describing} />}</Suspense>
    </Desk>
  )
}
