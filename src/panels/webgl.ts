/** Whether this browser can draw a 3D view: asked once, and when the page has a moment, since a drawing surface takes the browser some time. */
import { useEffect, useState } from 'react'
import { words } from '../words/index.ts'

/** `why` it cannot be had; undefined where it can. `slow`: it is drawn by the processor, every pixel of it. */
export interface Found {
  readonly why: string | undefined
  readonly slow: boolean
}

/** Drivers that draw without a graphics card, as they call themselves; browsers do not say it in any other way. */
const SLOW = /swiftshader|llvmpipe|softpipe|software|basic render/i

function drawnBy(context: WebGL2RenderingContext): string {
  const more = context.getExtension('WEBGL_debug_renderer_info')
  return String(context.getParameter(more ? more.UNMASKED_RENDERER_WEBGL : context.RENDERER))
}

let found: Found | undefined

function ask(): Found {
  try {
    const context = document.createElement('canvas').getContext('webgl2')
    if (!context) return { why: words.page.noScene.noWebGl, slow: false }
    const slow = SLOW.test(drawnBy(context))
    // Browsers allow only so many of these at a time.
    context.getExtension('WEBGL_lose_context')?.loseContext()
    return { why: undefined, slow }
  } catch {
    return { why: words.page.noScene.forbidden, slow: false }
  }
}

/** Undefined until it is known. What cannot be had is asked for again by the next view: it may have been taken away for a while. */
export function useWebGl(): Found | undefined {
  const [known, setKnown] = useState(found)
  useEffect(() => {
    if (known) return
    const later = setTimeout(() => {
      const now = found ?? ask()
      if (now.why === undefined) found = now
      setKnown(now)
    })
    return () => clearTimeout(later)
  }, [known])
  return known
}
