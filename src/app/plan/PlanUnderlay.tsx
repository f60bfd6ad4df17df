import { useEffect, useState } from 'react'
import type { Job, Underlay } from '#model/index.ts'
import { findPicture } from './pictureShelf.ts'
import { underlayMatrix } from './underlayPlace.ts'

/** The picture to trace over, under everything else. */
export function PlanUnderlay({ job: { underlay } }: { readonly job: Job }) {
  const url = usePicture(underlay)
  if (underlay === undefined || url === null) return null
  return (
    <image href={url} width={underlay.widthPixels} height={underlay.heightPixels} opacity="0.6" preserveAspectRatio="none"
      transform={`matrix(${underlayMatrix(underlay.marks).join(' ')})`} pointerEvents="none" />
  )
}

/** Its address in this window; null while it is looked for, and where this browser does not have it. */
export function usePicture(underlay: Underlay | undefined): string | null {
  const [url, setUrl] = useState<string | null>(null)
  const { picture, widthPixels, heightPixels } = underlay ?? {}
  useEffect(() => {
    if (picture === undefined || widthPixels === undefined || heightPixels === undefined) return
    let made: string | null = null, isGone = false
    void findPicture({ picture, widthPixels, heightPixels }).then((blob) => {
      if (blob === null || isGone) return
      made = URL.createObjectURL(blob)
      setUrl(made)
    })
    return () => {
      isGone = true
      setUrl(null)
      if (made !== null) URL.revokeObjectURL(made)
    }
  }, [picture, widthPixels, heightPixels])
  return url
}
