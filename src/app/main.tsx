import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { Desk } from './screens/Desk.tsx'
import { openDemo } from './opening.ts'
import './style.css'

const place = document.getElementById('desk')
if (place === null) throw new Error('main: index.html has no element with the id desk')
createRoot(place).render(<StrictMode><Desk /></StrictMode>)
void openDemo()
