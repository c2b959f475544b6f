/** Dragging in the round: the item in hand follows the pointer along its deck, at the height at which it was taken. */
import { type ThreeEvent, useThree } from '@react-three/fiber'
import { useEffect, useMemo, useRef } from 'react'
import { type PerspectiveCamera, Raycaster, Vector2 } from 'three'
import { type Placement, type Problem, um } from '../../solver/index.ts'
import { carried, TREMBLE } from '../store/align.ts'
import { layers } from '../store/layers.ts'
import { placementOf } from '../store/moves.ts'
import type { Actions } from '../store/store.ts'
import { deckAt, type Ray } from './ray.ts'

interface Ground {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly lifts: readonly number[]
  readonly actions: Pick<Actions, 'lift' | 'carryTo' | 'drop' | 'takeBack'>
}

/** A press on the item in hand begins it; the view does not turn meanwhile. */
export function useGrip(ground: Ground): (id: string, event: ThreeEvent<PointerEvent>) => void {
  const here = useRef(ground)
  here.current = ground
  const get = useThree((s) => s.get)
  const leave = useRef<(() => void) | undefined>(undefined)
  useEffect(() => () => leave.current?.(), [])
  return useMemo(() => {
    const caster = new Raycaster()
    const rayAt = (x: number, y: number): Ray => {
      const { camera, gl } = get()
      const box = gl.domElement.getBoundingClientRect()
      const at = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2)
      caster.setFromCamera(at, camera)
      const { origin: o, direction: d } = caster.ray
      return { from: [o.x, o.y, o.z], along: [d.x, d.y, d.z] }
    }
    return (id, { nativeEvent: press, point, distance }) => {
      if (leave.current || (press.pointerType === 'mouse' && press.button !== 0)) return
      const { problem, placements, lifts } = here.current
      const item = problem.items.findIndex((i) => i.id === id)
      const start = placementOf(placements, item)
      const deck = start && problem.decks[start.deck]
      if (!start || !deck) return
      const over = point.z - deck.z / 1000 - (lifts[start.deck] ?? 0)
      const off = { x: point.x * 1000 - start.at.x, y: point.y * 1000 - start.at.y }
      const { gl, camera, controls } = get()
      const turning = controls as { enabled?: boolean } | null
      if (turning) turning.enabled = false
      // mm that one pixel is, about where it was taken
      const fov = ((camera as PerspectiveCamera).fov * Math.PI) / 180
      const pixel = (2 * distance * Math.tan(fov / 2)) / gl.domElement.clientHeight
      let lifted = false
      const end = (): void => {
        window.removeEventListener('pointermove', move, true)
        window.removeEventListener('pointerup', up, true)
        window.removeEventListener('pointercancel', cancel, true)
        window.removeEventListener('pointerdown', second, true)
        if (turning) turning.enabled = true
        leave.current = undefined
      }
      const move = (event: PointerEvent): void => {
        if (event.pointerId !== press.pointerId) return
        const { actions, ...now } = here.current
        if (!lifted) {
          if (Math.hypot(event.clientX - press.clientX, event.clientY - press.clientY) < TREMBLE) return
          lifted = true
          // Its keys take back what is carried.
          gl.domElement.closest<HTMLElement>('[tabindex]')?.focus({ preventScroll: true })
          actions.lift(id, 'pointer')
        }
        const at = placementOf(now.placements, item) ?? start
        const ray = rayAt(event.clientX, event.clientY)
        const to = deckAt(now.problem, item, ray, now.lifts, over, at.deck)
        if (!to) return
        const wish: Placement = {
          item,
          deck: to.deck,
          at: { x: um(Math.round(to.x * 1000 - off.x)), y: um(Math.round(to.y * 1000 - off.y)) },
          turn: at.turn,
        }
        const snapping = layers().store.getState().snapping && !event.altKey
        actions.carryTo(carried(now.problem, now.placements, start, wish, pixel, snapping))
      }
      const up = (event: PointerEvent): void => {
        if (event.pointerId !== press.pointerId) return
        end()
        if (lifted) here.current.actions.drop()
      }
      const cancel = (event: PointerEvent): void => {
        if (event.pointerId !== press.pointerId) return
        end()
        if (lifted) here.current.actions.takeBack()
      }
      // A second finger turns the view instead.
      const second = (event: PointerEvent): void => {
        if (event.pointerId === press.pointerId) return
        end()
        if (lifted) here.current.actions.takeBack()
      }
      window.addEventListener('pointermove', move, true)
      window.addEventListener('pointerup', up, true)
      window.addEventListener('pointercancel', cancel, true)
      window.addEventListener('pointerdown', second, true)
      leave.current = () => {
        end()
        if (lifted) here.current.actions.takeBack()
      }
    }
  }, [get])
}
