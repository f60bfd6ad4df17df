import { useEffect, useState } from 'react'
import { openFile } from '../opening.ts'

/** A file dropped anywhere is opened. */
export function DropPlace() {
  const [over, setOver] = useState(false)
  useEffect(() => {
    const carriesFile = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') === true
    const hover = (event: DragEvent): void => {
      if (!carriesFile(event)) return
      event.preventDefault()
      setOver(true)
    }
    const leave = (event: DragEvent): void => { if (event.relatedTarget === null) setOver(false) }
    const drop = (event: DragEvent): void => {
      if (!carriesFile(event)) return
      event.preventDefault()
      setOver(false)
      const file = event.dataTransfer?.files[0]
      if (file !== undefined) void openFile(file)
    }
    addEventListener('dragover', hover)
    addEventListener('dragleave', leave)
    addEventListener('drop', drop)
    return () => {
      removeEventListener('dragover', hover)
      removeEventListener('dragleave', leave)
      removeEventListener('drop', drop)
    }
  }, [])
  return over ? <div className="drop-place"><p>Let go to open the job</p></div> : null
}
