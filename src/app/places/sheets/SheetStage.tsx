import { useEffect, useMemo, useState } from 'react'
import { svgOf } from '#sheets/svgOf.ts'
import { shownSheet, useSheets } from './sheetsShown.ts'

/** The sheet as it will be printed: as a picture, so that nothing in it can run. */
export function SheetStage() {
  const booklets = useSheets((now) => now.booklets)
  const shownKey = useSheets((now) => now.shownKey)
  const trouble = useSheets((now) => now.trouble)
  const sheet = useMemo(() => shownSheet({ booklets, shownKey }), [booklets, shownKey])
  const [large, setLarge] = useState(false)
  const [address, setAddress] = useState<string | null>(null)
  useEffect(() => {
    if (sheet === null) return
    const made = URL.createObjectURL(new Blob([svgOf(sheet)], { type: 'image/svg+xml' }))
    setAddress(made)
    return () => { URL.revokeObjectURL(made) }
  }, [sheet])
  if (sheet === null || address === null) return <p className="picture-words" role="status">{trouble ?? 'Drawing the sheets…'}</p>
  return (
    <div className="sheet-stage" data-sheet={sheet.id}>
      <div className={large ? 'sheet-paper is-large' : 'sheet-paper'} tabIndex={0} role="group" aria-label={`${sheet.title}, as it will be printed`}>
        <img src={address} alt={sheet.title} style={{ aspectRatio: `${sheet.widthMm} / ${sheet.heightMm}` }} draggable={false} />
      </div>
      <button type="button" className="button sheet-larger" aria-pressed={large} onClick={() => { setLarge(!large) }}>Larger</button>
    </div>
  )
}
