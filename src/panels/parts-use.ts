/** The desk for parts, for what stands around it. */
import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import type { PartsDesk, PartsState } from '../store/parts-desk.ts'

export const Desk = createContext<PartsDesk | undefined>(undefined)

export function useParts(): PartsDesk {
  const desk = useContext(Desk)
  if (!desk) throw new Error('the page has no desk for parts')
  return desk
}

export const usePartsState = <T>(select: (state: PartsState) => T): T => useStore(useParts().store, select)

/** The place on the screen beside an element. */
export function beside(element: Element | null): { x: number; y: number } {
  const box = element?.getBoundingClientRect()
  return box && box.width > 0 ? { x: box.left, y: box.bottom + 6 } : { x: innerWidth / 3, y: innerHeight / 4 }
}
