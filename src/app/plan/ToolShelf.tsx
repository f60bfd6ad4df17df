import { takeTool } from './board.ts'
import type { Tool } from './tool.ts'

/** Tools to be picked up, each with a sketch of what it makes. */
export function ToolShelf({ title, tools }: { readonly title: string, readonly tools: readonly Tool[] }) {
  return (
    <section className="shelf" aria-label={title}>
      <h3>{title}</h3>
      <div className="shelf-tools">
        {tools.map(tool => (
          <button key={tool.id} type="button" className="tool" data-tool={tool.id} onClick={() => { takeTool(tool) }}>
            <span className="sketch"><tool.Sketch /></span>
            <span>{tool.name}</span>
          </button>
        ))}
      </div>
    </section>
  )
}
