/** Turning the view, and noticing when the picture can no longer be drawn. */
import { useFrame, useThree } from '@react-three/fiber'
import { useEffect, useState } from 'react'
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js'
import { type Camera, createCamera, eyeOf, standOf, type Vector } from '../store/camera.ts'

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
  const [own] = useState(createCamera)
  const stand = shared ?? own
  useEffect(() => {
    // A picture that is higher than wide needs more distance to hold the same width.
    const far = distance * Math.max(1, 1 / aspect)
    const middle: Vector = [x, y, z]
    const controls = new OrbitControls(camera, element)
    controls.enableDamping = false
    controls.maxPolarAngle = Math.PI * 0.52
    controls.minDistance = far / 6
    controls.maxDistance = far * 3
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
    }
  }, [camera, element, invalidate, aspect, stand, x, y, z, distance])
  return null
}

/** Calls `onLost` when the browser takes the drawing context away. */
export function Watch({ onLost }: { onLost: () => void }) {
  const element = useThree((s) => s.gl.domElement)
  useEffect(() => {
    element.addEventListener('webglcontextlost', onLost)
    return () => element.removeEventListener('webglcontextlost', onLost)
  }, [element, onLost])
  // How many frames were drawn stands on the canvas: at rest the number must not grow.
  useFrame(({ gl }) => {
    element.dataset.frames = String(gl.info.render.frame)
  })
  return null
}
