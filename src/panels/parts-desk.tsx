/** The desk for parts around the page: its shortcut, its double click on the deck, and what opens by them. */
import { createContext, lazy, type ReactNode, Suspense, useContext, useEffect, useState } from 'react'
import { useStore } from 'zustand'
import { createPartsDesk, type DeckPoint, type PartsDesk, type PartsState } from '../store/parts-desk.ts'
import './parts-desk.css'

const PartsSearch = lazy(() => import('./parts-search.tsx'))
const FootprintEditor = lazy(() => import('./footprint-editor.tsx'))

const Desk = createContext<PartsDesk | undefined>(undefined)

export function useParts(): PartsDesk {
  const desk = useContext(Desk)
  if (!desk) throw new Error('the page has no desk for parts')
  return desk
}

export const usePartsState = <T,>(select: (state: PartsState) => T): T => useStore(useParts().store, select)

/** The place on the screen beside an element. */
export function beside(element: Element | null): { x: number; y: number } {
  const box = element?.getBoundingClientRect()
  return box && box.width > 0 ? { x: box.left, y: box.bottom + 6 } : { x: innerWidth / 3, y: innerHeight / 4 }
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
    const press = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey) return
      if ((event.target as Element | null)?.closest?.('dialog, input, textarea')) return
      event.preventDefault()
      desk.search(beside(document.activeElement))
    }
    const twice = (event: MouseEvent): void => {
      const target = event.target as Element | null
      const svg = target?.closest('svg.plan')
      if (!svg?.querySelector('g[data-deck]') || target?.closest('dialog')) return
      const at = deckPoint(svg, event.clientX, event.clientY)
      if (!at) return
      event.preventDefault()
      desk.search({ x: event.clientX + 8, y: event.clientY + 8, at })
    }
    window.addEventListener('keydown', press)
    window.addEventListener('dblclick', twice)
    return () => {
      window.removeEventListener('keydown', press)
      window.removeEventListener('dblclick', twice)
    }
  }, [desk])
}

export function WithParts({ children }: { children: ReactNode }) {
  const [desk] = useState(createPartsDesk)
  useOpeners(desk)
  const search = useStore(desk.store, (s) => s.search)
  const describing = useStore(desk.store, (s) => s.describing)
  return (
    <Desk value={desk}>
      {children}
      <Suspense fallback={null}>
        {search && <PartsSearch key={`${search.x} ${search.y} ${search.swap}`} search={search} />}
        {describing && <FootprintEditor describing={describing} />}
      </Suspense>
    </Desk>
  )
}
