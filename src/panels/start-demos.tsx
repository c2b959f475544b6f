/** The demos as plans, all to one scale, each with its story in a sentence. */
import { frameOf } from '../plan/frame.ts'
import { SmallPlan } from '../plan/small-plan.tsx'
import { boxOf } from '../store/outline.ts'
import { capital, inMm } from '../store/sentences.ts'
import type { DemoDoc } from '../store/start.ts'
import { words } from '../words/index.ts'
import { useAround, useStart } from './around.ts'
import { titleAndStory } from './head-name.tsx'

/** Millimetres of the bar under the first demo. */
const BAR = 50

function Demo({ demo, widest, first }: { demo: DemoDoc; widest: number; first: boolean }) {
  const { start } = useAround()
  const found = useStart((s) => s.pictures.get(demo.demo.file))
  const problem = found?.problem ?? demo.sheet.problem
  const [title, story] = titleAndStory(demo.doc.project.name)
  const boxes = problem.decks.map((deck) => boxOf(deck.outline))
  const largest = boxes.reduce((a, b) => (a.w * a.h >= b.w * b.h ? a : b))
  const id = `demo-${demo.demo.file.replace(/\W/g, '-')}`
  const share = frameOf(problem, 6, 10, 1.6).width / widest
  return (
    <li>
      <button
        type="button"
        className="demo"
        aria-labelledby={`${id}-name`}
        aria-describedby={`${id}-story ${id}-size`}
        onClick={() => start.choose(demo.demo)}
      >
        <span className="demo-plan">
          <span style={{ width: `${share * 100}%` }}>
            <SmallPlan problem={problem} placements={found?.placements ?? []} scope={id} />
          </span>
        </span>
        <span className="demo-name" id={`${id}-name`}>
          {title}
        </span>
        {story && (
          <span className="demo-story" id={`${id}-story`}>
            {capital(story)}.
          </span>
        )}
        <span className="demo-size" id={`${id}-size`}>
          {words.start.demoSize(inMm(largest.w), inMm(largest.h), problem.items.length, boxes.length)}
        </span>
      </button>
      {first && (
        <p className="scale">
          <span className="bar" aria-hidden="true" style={{ width: `${(BAR / widest) * 100}%` }} />
          {words.start.scale}
        </p>
      )}
    </li>
  )
}

export function StartDemos() {
  const { start } = useAround()
  const demos = start.demos()
  const widest = Math.max(...demos.map((d) => frameOf(d.sheet.problem, 6, 10, 1.6).width))
  return (
    <ul>
      {demos.map((demo, index) => (
        <Demo key={demo.demo.file} demo={demo} widest={widest} first={index === 0} />
      ))}
    </ul>
  )
}
