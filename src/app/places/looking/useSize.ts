import { useEffect, useRef, useState } from 'react'

/** Width and height of an element, CSS px; 0 before it is on the page. */
export function useSize<T extends HTMLElement>() {
  const ref = useRef<T>(null)
  const [size, setSize] = useState({ width: 0, height: 0 })
  useEffect(() => {
    const element = ref.current
    if (element === null) return
    const watcher = new ResizeObserver(() => {
      const { clientWidth: width, clientHeight: height } = element
      setSize((was) => was.width === width && was.height === height ? was : { width, height })
    })
    watcher.observe(element)
    return () => { watcher.disconnect() }
  }, [])
  return { ref, ...size }
}
