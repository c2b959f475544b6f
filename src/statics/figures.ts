/** How statics writes its figures, wherever they are read: each rounded to where the robot is worse off, and never to a limit that it breaks. */
import { beside, exactly, inward, outward, roundDown, roundUp, SAME, trimmed, type Worse } from '../model/rounding.ts'

type Span = readonly [number, number]
type Sides = { readonly left: number; readonly right: number }
type SidesText = { readonly left: string; readonly right: string }

/** Degrees of slope on which it tips, beside the least that it must stand on. */
const tip = (angle: number, least?: number): string => rounded('down', angle, least)

/** A share in per cent, beside the most that there may be. */
const share = (part: number, most?: number): string =>
  rounded('up', part * 100, most === undefined ? undefined : most * 100)

const rounded = (worse: Worse, value: number, limit?: number): string =>
  limit === undefined ? trimmed((worse === 'up' ? roundUp : roundDown)(value, 1)) : beside(worse, value, limit)

/** Shares of both tracks in per cent: the heavier one up, the other is what is left of 100. */
function shares({ left, right }: Sides, most?: number): SidesText {
  const heavy = share(Math.max(left, right), most)
  const light = exactly(100 - Number(heavy))
  return left >= right ? { left: heavy, right: light } : { left: light, right: heavy }
}

/** Newtons on both tracks: the heavier one up, a lighter one down; one that lifts is below 0. */
function forces({ left, right }: Sides): SidesText {
  const of = (mine: number, other: number): string =>
    mine >= other - SAME ? rounded('up', mine) : rounded('down', mine, 0)
  return { left: of(left, right), right: of(right, left) }
}

const texts = ([a, b]: Span): readonly [string, string] => [trimmed(a, 4), trimmed(b, 4)]

export const figures = {
  tip,
  share,
  shares,
  forces,
  /** The same beside a limit that is known to be broken, however little that is. */
  tipShort: (angle: number, least: number): string => tip(Math.min(angle, least - 2 * SAME), least),
  shareOver: (part: number, most: number): string => share(Math.max(part, most + 2 * SAME), most),
  /** Degrees, or a limit: as they were given. */
  given: exactly,
  givenShare: (most: number): string => exactly(most * 100),
  /** mm to the edge over which it tips; 0 is told from what is nearly 0. */
  margin: (mm: number): string => beside('down', mm, 0),
  /** mm past that edge. */
  outside: (mm: number): string => beside('up', mm, 0),
  /** What a head sweeps, mm. */
  sweep: ({ reach, z }: { readonly reach: number; readonly z: Span }) => {
    const [low, high] = texts(outward(z))
    return { reach: trimmed(roundUp(reach, 1)), low, high }
  },
  /** Of so much, how much is hidden. */
  hidden: (part: number, all: number): string => beside('up', part, all),
  /** Angles that are free, and angles that are not; each as text. */
  free: (span: Span): readonly [string, string] => texts(inward(span)),
  blocked: (span: Span): readonly [string, string] => texts(outward(span)),
}
