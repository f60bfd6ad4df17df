import { Component } from 'react'
import type { ReactNode } from 'react'
import { pictureCame } from '../firstPicture.ts'

/** Where a browser cannot draw in 3D the list still works, and says so. */
export class PictureGuard extends Component<{ readonly children: ReactNode, readonly words?: string }, { readonly failed: boolean }> {
  override state = { failed: false }

  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true }
  }

  override componentDidCatch(): void {
    pictureCame()
  }

  override render(): ReactNode {
    if (!this.state.failed) return this.props.children
    return (
      <div className="picture-words">
        <h2>No picture here</h2>
        <p>{this.props.words ?? 'This browser cannot draw in 3D (it needs WebGL 2). The list of what to change is complete all the same.'}</p>
      </div>
    )
  }
}
