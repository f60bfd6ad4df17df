/** A whole job stood elsewhere: turned about a plumb line and shifted, nothing else about it changed. */
import type { Job, Point2, Point3, Shape } from '#model/index.ts'

/** Plumb lines stay plumb. Millimetres, degrees. */
export interface Motion {
  readonly at: (place: Readonly<Point3>) => Point3
  /** unit direction from a direction of any length but zero */
  readonly way: (direction: Readonly<Point3>) => Point3
  /** an angle in plan, from the x axis */
  readonly angleDeg: (deg: number) => number
}

/** Everything in a job that has a place or a direction of its own on site; what is told from a joist, a box or a picture stays. */
export function movedJob(job: Job, { at, way, angleDeg }: Motion): Job {
  const xy = ([x, y]: Readonly<Point2>): Point2 => [at([x, y, 0])[0], at([x, y, 0])[1]]
  const height = (mm: number): number => at([0, 0, mm])[2]
  // turns about x and y come before that about z, so that one more turn about a plumb line only adds to the last
  const rotation = ([x, y, z]: Readonly<Point3>): Point3 => [x, y, angleDeg(z)]
  const shapeOf = (shape: Shape): Shape => {
    switch (shape.kind) {
      case 'box': return { ...shape, centre: at(shape.centre), rotationDeg: rotation(shape.rotationDeg) }
      case 'prism': return { ...shape, origin: at(shape.origin), rotationDeg: rotation(shape.rotationDeg) }
      case 'cylinder': return { ...shape, from: at(shape.from), to: at(shape.to) }
      case 'tube': return { ...shape, points: shape.points.map(at) }
    }
  }
  return {
    ...job,
    rooms: job.rooms.map((room) => ({
      ...room, outline: room.outline.map(xy), floorMm: height(room.floorMm), ceilingMm: height(room.ceilingMm), doors: room.doors.map((door) => ({ ...door, at: xy(door.at) })),
    })),
    zones: job.zones.map((zone) => ({
      ...zone, outline: zone.outline.map(xy), holes: zone.holes.map((ring) => ring.map(xy)), undersideMm: height(zone.undersideMm), topMm: height(zone.topMm),
    })),
    joistFields: job.joistFields.map((field) => ({ ...field, origin: at(field.origin), directionDeg: angleDeg(field.directionDeg) })),
    solids: job.solids.map((solid) => ({ ...solid, shape: shapeOf(solid.shape) })),
    sleeves: job.sleeves.map((sleeve) => ({ ...sleeve, at: at(sleeve.at), axis: way(sleeve.axis) })),
    equipment: job.equipment.map((one) => ({ ...one, centre: at(one.centre), rotationDeg: rotation(one.rotationDeg) })),
    runs: job.runs.map((run) => ({ ...run, waypoints: run.waypoints.map((point) => ({ ...point, at: at(point.at) })) })),
    views: job.views.map((view) => ({
      ...view, eye: at(view.eye), target: at(view.target), up: way(view.up), ...view.cut === undefined ? {} : { cut: { at: at(view.cut.at), towards: way(view.cut.towards) } },
    })),
    ...job.underlay === undefined ? {} : {
      underlay: {
        ...job.underlay, levelMm: height(job.underlay.levelMm), marks: [{ ...job.underlay.marks[0], at: xy(job.underlay.marks[0].at) }, { ...job.underlay.marks[1], at: xy(job.underlay.marks[1].at) }],
      },
    },
  }
}
