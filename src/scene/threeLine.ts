/** three's own Line under a name that is not taken: `<line>` is a shape of drawings on the page. */
import { extend } from '@react-three/fiber'
import type { ThreeElement } from '@react-three/fiber'
import { Line } from 'three'

extend({ ThreeLine: Line })

declare module '@react-three/fiber' {
  interface ThreeElements {
    threeLine: ThreeElement<typeof Line>
  }
}
