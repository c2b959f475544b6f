/** A draft part in plan and in the round. */
import { lazy, Suspense, useMemo } from 'react'
import { type FootprintFile, footprintToSolver } from '../../footprints/schema.ts'
import { partStand } from '../store/part-stand.ts'
import { words } from '../words/index.ts'
import { Boundary, NoScene } from './boundary.tsx'
import { PartPicture } from './parts-picture.tsx'
import { useWebGl } from './webgl.ts'

const PartScene = lazy(() => import('../scene/part-scene.tsx'))

/** `footprint` must be sound. */
export function PartViews({ footprint }: { footprint: FootprintFile }) {
  const t = words.footprint
  const webGl = useWebGl()
  const solid = useMemo(() => footprintToSolver(footprint), [footprint])
  const stand = useMemo(() => partStand(footprint), [footprint])
  const { width, depth, height } = footprint.body
  return (
    <div className="part-views">
      <section aria-label={t.plan} className="part-plan">
        <PartPicture
          footprint={solid}
          whole
          scope="bench"
          label={t.planLabel(words.parts.size(width, depth, height))}
        />
      </section>
      <section aria-label={t.solid} className="part-solid">
        {webGl?.why !== undefined ? (
          <NoScene why={webGl.why} />
        ) : !webGl ? (
          <p className="scene-wait">{t.waits}</p>
        ) : (
          <Boundary>
            <Suspense fallback={<p className="scene-wait">{t.waits}</p>}>
              <PartScene {...stand} label={t.solidLabel} slow={webGl.slow} />
            </Suspense>
          </Boundary>
        )}
      </section>
    </div>
  )
}
