/** The project file's door: what it holds, how it is read and written. */
export { FORMAT, LATEST_VERSION, jobSchema, type Job, type JobInput } from './schema.ts'
export { CLASSES, type LooseSolid, type Room, type Shape, type SolidClass, type Zone } from './surroundings.ts'
export type { DrilledHole, Joist, JoistField, JoistSection, OpenWebSection } from './joists.ts'
export type { AirStream, DuctType, Equipment, Run, RunEnd, Sleeve, Spigot } from './ducts.ts'
export { type Settings } from './settings.ts'
export type { DuctTypeId, EquipmentId, FieldId, HoleId, JoistId, Point2, Point3, RoomId, RunId, SectionId, SleeveId, SolidId, SpigotId, ZoneId } from './basics.ts'
