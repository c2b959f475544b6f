/** Turning the view, and noticing when the picture can no longer be drawn. */
import { useFrame, useThree } from '@react-three/fiber'
import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js'
import {
  type Camera,
  createCamera,
  eyeOf,
  FARTHEST,
  LOWEST,
  NEARER,
  NEAREST,
  nearer,
  standOf,
  TURN,
  turnedBy,
  type Vector,
} from '../store/camera.ts'

interface OrbitProps {
  /** The middle that the view turns about, and how far off all of it is seen, mm. */
  readonly x: number
  readonly y: number
  readonly z: number
  readonly distance: number
  /** Shared by views that turn together; without it the view turns alone. */
  readonly shared?: Camera | undefined
}

export function Orbit({ x, y, z, distance, shared }: OrbitProps) {
  const camera = useThree((s) => s.camera)
  const element = useThree((s) => s.gl.domElement)
  const invalidate = useThree((s) => s.invalidate)
  const aspect = useThree((s) => s.viewport.aspect)
  const set = useThree((s) => s.set)
  const [own] = useState(createCamera)
  const stand = shared ?? own
  useEffect(() => {
    // A picture that is higher than wide needs more distance to hold the same width.
    const far = distance * Math.max(1, 1 / aspect)
    const middle: Vector = [x, y, z]
    const controls = new OrbitControls(camera, element)
    controls.enableDamping = false
    controls.maxPolarAngle = LOWEST
    controls.minDistance = far * NEAREST
    controls.maxDistance = far * FARTHEST
    // Who carries an item keeps the view still meanwhile.
    set({ controls: controls as never })
    let mine = false
    const follow = (): void => {
      if (mine) return
      const { eye, target } = eyeOf(stand.store.getState(), middle, far)
      camera.position.set(...eye)
      controls.target.set(...target)
      controls.update()
      invalidate()
    }
    const changed = (): void => {
      const { position: p } = camera
      const { target: t } = controls
      mine = true
      stand.turn(standOf([p.x, p.y, p.z], [t.x, t.y, t.z], middle, far))
      mine = false
      invalidate()
    }
    follow()
    controls.addEventListener('change', changed)
    const leave = stand.store.subscribe(follow)
    return () => {
      leave()
      controls.removeEventListener('change', changed)
      controls.dispose()
      set({ controls: null })
    }
  }, [camera, element, invalidate, set, aspect, stand, x, y, z, distance])
  return null
}

/** The keys of a view that has the focus; whether one of them was meant. */
export function turnByKey({ store, turn, whole }: Camera, event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return false
  const now = store.getState()
  switch (event.key) {
    case 'ArrowLeft':
      turn(turnedBy(now, -TURN, 0))
      return true
    case 'ArrowRight':
      turn(turnedBy(now, TURN, 0))
      return true
    case 'ArrowUp':
      turn(turnedBy(now, 0, TURN))
      return true
    case 'ArrowDown':
      turn(turnedBy(now, 0, -TURN))
      return true
    case 'PageUp':
      turn(nearer(now, NEARER))
      return true
    case 'PageDown':
      turn(nearer(now, 1 / NEARER))
      return true
    case 'Home':
      whole()
      return true
    default:
      return false
  }
}

/** Milliseconds after which the picture is drawn even if the browser has not said that its shaders are made. */
const SHADERS_SOON = 2000

interface WatchProps {
  /** All that the first picture is to show is there; without it: from the beginning. */
  readonly ready?: boolean
  readonly onLost: () => void
  readonly onRestored?: () => void
}

/** Says when the browser takes the drawing context away, and when it gives it back. */
export function Watch({ ready = true, onLost, onRestored }: WatchProps) {
  const element = useThree((s) => s.gl.domElement)
  useEffect(() => {
    const restored = (): void => onRestored?.()
    element.addEventListener('webglcontextlost', onLost)
    element.addEventListener('webglcontextrestored', restored)
    return () => {
      element.removeEventListener('webglcontextlost', onLost)
      element.removeEventListener('webglcontextrestored', restored)
    }
  }, [element, onLost, onRestored])
  const invalidate = useThree((s) => s.invalidate)
  useEffect(() => {
    if (ready) invalidate()
  }, [ready, invalidate])
  const shaders = useRef<'asked for' | 'there'>(undefined)
  // With a priority this draws itself. How many frames were drawn stands on the canvas: at rest the number must not grow; and
  // what a frame takes, so that a part too much in it is noticed.
  useFrame(({ gl, scene, camera }) => {
    // The first picture waits until its shaders are made: to draw at once would hold up the page until then.
    if (shaders.current === undefined && ready) {
      shaders.current = 'asked for'
      const there = (): void => {
        shaders.current = 'there'
        invalidate()
      }
      const late = setTimeout(there, SHADERS_SOON)
      void gl.compileAsync(scene, camera).then(() => {
        clearTimeout(late)
        there()
      })
    }
    if (shaders.current !== 'there') return
    gl.render(scene, camera)
    const { render, memory } = gl.info
    element.dataset.frames = String(render.frame)
    element.dataset.draws = String(render.calls)
    element.dataset.geometries = String(memory.geometries)
    element.dataset.textures = String(memory.textures)
  }, 1)
  return null
}
