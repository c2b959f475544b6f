/** Why something was not taken, in sentences: nothing where it was, and read aloud when it comes. */
import type { EditProblem } from '../model/index.ts'

interface Why {
  readonly children: string | false | undefined
}

/** Below what was refused. `look`: a class of its own instead of the small warning; empty: as the text around it. */
export const Refused = ({ children, look = 'field-wrong' }: Why & { readonly look?: string }) =>
  children ? (
    <p role="alert" className={look || undefined}>
      {children}
    </p>
  ) : null

/** Within the field that it is about, which names it by `id`. */
export const RefusedField = ({ children, id }: Why & { readonly id: string }) =>
  children ? (
    <span id={id} className="field-wrong" role="alert">
      {children}
    </span>
  ) : null

/** Each of several, as `say` words it. */
export const RefusedList = ({
  all,
  say,
}: {
  readonly all: readonly EditProblem[]
  readonly say: (path: string, found: string, expected: string) => string
}) =>
  all.length === 0 ? null : (
    <ul role="alert">
      {all.map((p) => (
        <li key={`${p.path} ${p.found}`} className="field-wrong">
          {say(p.path, p.found, p.expected)}
        </li>
      ))}
    </ul>
  )
