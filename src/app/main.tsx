import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { Desk } from './screens/Desk.tsx'
import { workOffline } from './offline/newerVersion.ts'
import { keepWork, start } from './opening.ts'
import './style.css'
import './contrast.css'

const place = document.getElementById('desk')
if (place === null) throw new Error('main: index.html has no element with the id desk')
createRoot(place).render(<StrictMode><Desk /></StrictMode>)
void start().then(() => workOffline(keepWork))
