/** Looked at so often, ms; a card that never comes to rest is not waited for longer than this. */
const LOOK_MS = 16, LONGEST_MS = 3_000

/** When the graphics card has done all that it was asked for. Some things, such as resizing a canvas, make the page stand still until then if they are asked for before. */
export async function atRest(gl: WebGL2RenderingContext): Promise<void> {
  const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0)
  gl.flush()
  for (let waitedMs = 0; fence !== null && waitedMs < LONGEST_MS && !gl.isContextLost(); waitedMs += LOOK_MS) {
    if (gl.getSyncParameter(fence, gl.SYNC_STATUS) === gl.SIGNALED) break
    await new Promise((resolve) => { setTimeout(resolve, LOOK_MS) })
  }
  gl.deleteSync(fence)
}
