/** Triangles of a closed surface: 3 numbers a vertex (positions in mm, unit normals outward), 3 vertex indices a triangle, counter-clockwise seen from outside. */
export interface SolidMesh {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly indices: Uint32Array
}

/** Collects vertices and triangles. */
export class MeshBuilder {
  readonly #positions: number[] = []
  readonly #normals: number[] = []
  readonly #indices: number[] = []

  /** Returns the vertex's index. */
  addVertex(x: number, y: number, z: number, nx: number, ny: number, nz: number): number {
    this.#positions.push(x, y, z)
    this.#normals.push(nx, ny, nz)
    return this.#positions.length / 3 - 1
  }

  addTriangle(a: number, b: number, c: number): void {
    this.#indices.push(a, b, c)
  }

  /** Two triangles a b c and a c d. */
  addQuad(a: number, b: number, c: number, d: number): void {
    this.#indices.push(a, b, c, a, c, d)
  }

  build(): SolidMesh {
    return {
      positions: Float32Array.from(this.#positions),
      normals: Float32Array.from(this.#normals),
      indices: Uint32Array.from(this.#indices),
    }
  }
}

/**
 * How many straight sides keep a circle's chords within `errorMm` of it, over `angleRad` of turn.
 * The sagitta of a chord is radius * (1 - cos(half its angle)).
 */
export function sidesOfCircle(radius: number, angleRad: number, errorMm: number, least: number): number {
  const half = Math.acos(Math.max(-1, 1 - errorMm / radius))
  return Math.max(least, Math.ceil(angleRad / (2 * half)))
}
