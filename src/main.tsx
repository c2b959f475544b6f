import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import demo from '../demo-data/greenhouse-scout.json?raw'
import { loadLibrary } from '../footprints/load.ts'
import { App } from './panels/app.tsx'
import { filesWith } from './store/files.ts'
import { createDeckwright } from './store/store.ts'
import { openInBrowser } from './worker/browser.ts'
import { createPool } from './worker/pool.ts'
import './look.css'
import './plan.css'
import './sheet.css'
import './panels.css'

const files = filesWith(loadLibrary())
const opened = files.open(demo, 'greenhouse-scout.json')
const first = opened.kind === 'opened' ? opened.doc : files.empty(160, 120)
const deckwright = createDeckwright(files, createPool(openInBrowser), first)
const root = document.getElementById('root')
if (root)
  createRoot(root).render(
    <StrictMode>
      <App deckwright={deckwright} />
    </StrictMode>,
  )
