/** Turning the view, and noticing when the picture can no longer be drawn. */
import { useFrame, useThree } from '@react-three/fiber'
import { useEffect } from 'react'
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js'

/** `target`: the point that the view turns about, mm. */
export function Orbit({ x, y, z, distance }: { x: number; y: number; z: number; distance: number }) {
  const camera = useThree((s) => s.camera)
  const element = useThree((s) => s.gl.domElement)
  const invalidate = useThree((s) => s.invalidate)
  const get = useThree((s) => s.get)
  useEffect(() => {
    // A picture that is higher than wide needs more distance to hold the same width.
    const { aspect } = get().viewport
    const far = distance * Math.max(1, 1 / aspect)
    camera.position.set(x - 0.42 * far, y - 0.72 * far, z + 0.66 * far)
    const controls = new OrbitControls(camera, element)
    controls.enableDamping = false
    controls.maxPolarAngle = Math.PI * 0.52
    controls.minDistance = far / 6
    controls.maxDistance = far * 3
    controls.target.set(x, y, z)
    controls.update()
    const changed = (): void => invalidate()
    controls.addEventListener('change', changed)
    invalidate()
    return () => {
      controls.removeEventListener('change', changed)
      controls.dispose()
    }
  }, [camera, element, invalidate, get, x, y, z, distance])
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
