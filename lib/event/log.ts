import type { OccupantTrace, VehicleTrace } from "./types.ts";

/** Motion of one occupant, one value a step. */
export type SeatRecord = Pick<OccupantTrace, "chestAcceleration" | "headAcceleration" | "chestVelocity" | "chestTravel" | "headVelocity" | "headTravel">;

const SEAT_COLUMNS = 6;
const VEHICLE_COLUMNS = 5;

/** What a crash leaves behind, one value a step: columns of one block, which the stepping writes to directly. */
export class Log {
  readonly block: Float64Array;
  /** Of a column. */
  readonly size: number;
  readonly force: Float64Array;
  readonly a: VehicleTrace;
  readonly b: VehicleTrace;
  readonly seats: readonly SeatRecord[];

  constructor(size: number, seats: number) {
    this.size = size;
    this.block = new Float64Array((1 + 2 * VEHICLE_COLUMNS + seats * SEAT_COLUMNS) * size);
    this.force = this.column(0);
    this.a = this.vehicle(this.vehicleBegins(0));
    this.b = this.vehicle(this.vehicleBegins(1));
    this.seats = Array.from({ length: seats }, (_, k) => this.seat(this.seatBegins(k)));
  }

  /** Where the columns of a vehicle and of an occupant begin: the orders below hold. */
  vehicleBegins(side: number): number {
    return (1 + side * VEHICLE_COLUMNS) * this.size;
  }

  seatBegins(k: number): number {
    return (1 + 2 * VEHICLE_COLUMNS + k * SEAT_COLUMNS) * this.size;
  }

  private column(begin: number): Float64Array {
    return this.block.subarray(begin, begin + this.size);
  }

  private vehicle(begin: number): VehicleTrace {
    const { size } = this;
    return { position: this.column(begin), cabinLoss: this.column(begin + size), velocity: this.column(begin + 2 * size), acceleration: this.column(begin + 3 * size), crush: this.column(begin + 4 * size) };
  }

  private seat(begin: number): SeatRecord {
    const { size } = this;
    return {
      chestAcceleration: this.column(begin),
      headAcceleration: this.column(begin + size),
      chestVelocity: this.column(begin + 2 * size),
      chestTravel: this.column(begin + 3 * size),
      headVelocity: this.column(begin + 4 * size),
      headTravel: this.column(begin + 5 * size),
    };
  }
}
