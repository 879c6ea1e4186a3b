/*
 * The crash of lib/event in plain C, the same natural code: one struct an occupant, one function to move it on.
 * Reads "count repeats step duration" and the vehicles from standard input, prints the minimum and median time of a crash in
 * microseconds for stepping alone and with all outputs, then the outputs of the last crash.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define MOST 2
#define POINTS 16
#define GRAVITY 9.80665

typedef struct {
  double torsoMass, headMass, slack, beltStiffness, beltLimit, beltReach, fireTime, torsoGap, torsoBagStiffness, headGap,
      headBagStiffness, space, interiorStiffness, neckStiffness, neckDamping, dampingRate;
  double torso, head, torsoVelocity, headVelocity, torsoAcceleration, headAcceleration, payout, bag, beltForce, bagForce,
      interiorForce, beltPeak, bagPeak, loss, neckDamped, bagOpening, intrusion;
  double *chestAcceleration, *headTrace, *chestTravel, *chestVelocity;
} Seat;

typedef struct {
  double mass, speed, noseLength, give;
  int points, seats;
  double crush[POINTS], force[POINTS];
  Seat seat[MOST];
  double *position, *cabinLoss;
} Vehicle;

typedef struct {
  double velocityA, velocityB, peakForce, peakA, peakB, commonVelocity, separation, chest[2 * MOST], clip[2 * MOST],
      head[2 * MOST], hic15[2 * MOST], hic36[2 * MOST], travel[2 * MOST], distance[2 * MOST], efficiency[2 * MOST];
} Outputs;

static int partHolding(const double *series, int points, double value) {
  int i = 1;
  while (i < points - 1 && value > series[i]) i++;
  return i;
}

static double crushAt(const Vehicle *v, double force) {
  int i = partHolding(v->force, v->points, force);
  return v->crush[i - 1] + (force - v->force[i - 1]) * (v->crush[i] - v->crush[i - 1]) / (v->force[i] - v->force[i - 1]);
}

static double bagEnergy(const Seat *s, double vehicle) {
  double into = fmax(0, s->torso - vehicle - s->torsoGap), headInto = fmax(0, s->head - vehicle - s->headGap);
  return s->bag * (s->torsoBagStiffness * into * into + s->headBagStiffness * headInto * headInto) / 2;
}

static double advance(Seat *s, double h, double vehicle, double loss) {
  double half = h / 2;
  double wasNodding = s->headVelocity - s->torsoVelocity;
  double torsoHalfway = s->torsoVelocity + half * s->torsoAcceleration;
  double headHalfway = s->headVelocity + half * s->headAcceleration;
  double torso = s->torso + h * torsoHalfway;
  double head = s->head + h * headHalfway;
  double travel = torso - vehicle, headTravel = head - vehicle;
  double stretch = travel - s->slack - s->payout;
  if (stretch > s->beltReach) {
    s->payout = travel - s->slack - s->beltReach;
    stretch = s->beltReach;
  }
  double belt = stretch > 0 ? s->beltStiffness * stretch : 0;
  double intoBag = travel - s->torsoGap;
  double bagForce = intoBag > 0 ? s->bag * s->torsoBagStiffness * intoBag : 0;
  double headIntoBag = headTravel - s->headGap;
  double headBagForce = headIntoBag > 0 ? s->bag * s->headBagStiffness * headIntoBag : 0;
  double intoInterior = travel - s->space + loss;
  double interior = intoInterior > 0 ? s->interiorStiffness * intoInterior : 0;
  double neck = s->neckStiffness * (headTravel - travel);
  double torsoPull = (neck - belt - bagForce - interior) / s->torsoMass;
  double headPull = (-neck - headBagForce) / s->headMass;
  double nodding = (headHalfway - torsoHalfway + half * (headPull - torsoPull)) / (1 + half * s->dampingRate);
  double damping = s->neckDamping * nodding;
  double torsoAcceleration = torsoPull + damping / s->torsoMass;
  double headAcceleration = headPull - damping / s->headMass;
  s->neckDamped += half * s->neckDamping * (wasNodding * wasNodding + nodding * nodding);
  if (loss != s->loss) {
    s->intrusion += (s->interiorForce + interior) / 2 * (loss - s->loss);
    s->loss = loss;
  }
  s->torso = torso;
  s->head = head;
  s->torsoAcceleration = torsoAcceleration;
  s->headAcceleration = headAcceleration;
  s->torsoVelocity = torsoHalfway + half * torsoAcceleration;
  s->headVelocity = headHalfway + half * headAcceleration;
  s->beltForce = belt;
  s->bagForce = bagForce;
  s->interiorForce = interior;
  if (belt > s->beltPeak) s->beltPeak = belt;
  if (bagForce > s->bagPeak) s->bagPeak = bagForce;
  return belt + bagForce + interior + headBagForce;
}

static double fire(Seat *s, double time, double vehicle) {
  if (s->bag == 1) return INFINITY;
  if (s->fireTime > time) return s->fireTime;
  s->bag = 1;
  s->bagOpening = bagEnergy(s, vehicle);
  return INFINITY;
}

static void record(Seat *s, int i, double vehicle) {
  s->chestAcceleration[i] = s->torsoAcceleration;
  s->headTrace[i] = s->headAcceleration;
  s->chestTravel[i] = s->torso - vehicle;
  s->chestVelocity[i] = s->torsoVelocity;
}

static void step(Vehicle *a, Vehicle *b, double h0, int count, Outputs *out) {
  double from[2 * POINTS], forceFrom[2 * POINTS], crushAFrom[2 * POINTS], crushBFrom[2 * POINTS];
  int parts = -1;
  for (int i = 0, j = 0; i < a->points || j < b->points;) {
    double fa = i < a->points ? a->force[i] : INFINITY, fb = j < b->points ? b->force[j] : INFINITY, next = fmin(fa, fb);
    parts++;
    forceFrom[parts] = next;
    crushAFrom[parts] = crushAt(a, next);
    crushBFrom[parts] = crushAt(b, next);
    from[parts] = crushAFrom[parts] + crushBFrom[parts];
    if (fa == next) i++;
    if (fb == next) j++;
  }
  double give = a->give + b->give;
  int rigid = give == 0;
  double unloadStiffness = rigid ? INFINITY : 1 / give;
  double massA = a->mass, massB = b->mass, reducedMass = massA * massB / (massA + massB);
  double nextFire = INFINITY;
  for (int side = 0; side < 2; side++) {
    Vehicle *v = side == 0 ? a : b;
    for (int k = 0; k < v->seats; k++) {
      Seat *s = &v->seat[k];
      s->torso = s->head = s->torsoAcceleration = s->headAcceleration = s->payout = s->bag = 0;
      s->torsoVelocity = s->headVelocity = v->speed;
      s->beltForce = s->bagForce = s->interiorForce = s->beltPeak = s->bagPeak = s->loss = 0;
      s->neckDamped = s->bagOpening = s->intrusion = 0;
      nextFire = fmin(nextFire, s->fireTime);
    }
  }
  int part = 0;
  double partFrom = 0, partForce = 0, partCrushA = 0, partCrushB = 0;
  double partEnd = parts > 1 ? from[1] : INFINITY;
  double stiffness = forceFrom[1] / from[1], shareA = crushAFrom[1] / from[1], shareB = crushBFrom[1] / from[1];
  double positionA = 0, positionB = 0, velocityA = a->speed, velocityB = b->speed, accelerationA = 0, accelerationB = 0;
  double force = 0, peakForce = 0, peakOverlap = 0, crushA = 0, crushB = 0, lossA = 0, lossB = 0, peakA = 0, peakB = 0;
  double commonVelocity = -1, separation = -1;
  int locked = 0;
  for (int i = 0; i <= count; i++) {
    double time = i == 0 ? 0 : (i - 1) * h0, left = i == 0 ? 0 : h0;
    int mayMeet = 1, jumped = 0;
    for (;;) {
      double h = jumped ? 0 : left;
      int meets = 0;
      if (mayMeet && !jumped && !locked && peakForce > 0) {
        double closing = velocityA + velocityB, slowing = -(accelerationA + accelerationB);
        if (closing <= 0) meets = rigid && force > 0;
        else meets = positionA + positionB >= peakOverlap && closing <= slowing * h;
        if (meets) h = closing <= 0 ? 0 : closing / slowing;
      }
      jumped = 0;
      int fires = nextFire - time <= h;
      if (fires) {
        h = fmax(0, nextFire - time);
        meets = 0;
      }
      velocityA += h / 2 * accelerationA;
      velocityB += h / 2 * accelerationB;
      positionA += h * velocityA;
      positionB += h * velocityB;
      double overlap = positionA + positionB, wasForce = force;
      if (!locked) {
        if (overlap > peakOverlap) {
          while (overlap > partEnd) {
            part++;
            partFrom = from[part];
            partForce = forceFrom[part];
            partCrushA = crushAFrom[part];
            partCrushB = crushBFrom[part];
            double wide = from[part + 1] - partFrom;
            stiffness = (forceFrom[part + 1] - partForce) / wide;
            shareA = (crushAFrom[part + 1] - partCrushA) / wide;
            shareB = (crushBFrom[part + 1] - partCrushB) / wide;
            partEnd = part + 1 < parts ? from[part + 1] : INFINITY;
          }
          peakOverlap = overlap;
          force = partForce + stiffness * (overlap - partFrom);
          peakForce = force;
          crushA = partCrushA + shareA * (overlap - partFrom);
          crushB = partCrushB + shareB * (overlap - partFrom);
          if (crushA > a->noseLength) lossA = crushA - a->noseLength;
          if (crushB > b->noseLength) lossB = crushB - b->noseLength;
        } else if (rigid) force = peakForce;
        else {
          force = peakForce - unloadStiffness * (peakOverlap - overlap);
          if (force < 0) {
            if (wasForce > 0 && separation < 0) separation = time + h * wasForce / (wasForce - force);
            force = 0;
          }
        }
      }
      double pushA = 0, pushB = 0;
      for (int k = 0; k < a->seats; k++) pushA += advance(&a->seat[k], h, positionA, lossA);
      for (int k = 0; k < b->seats; k++) pushB += advance(&b->seat[k], h, positionB, lossB);
      if (locked) {
        force = reducedMass * (pushA / massA + pushB / massB);
        if (force > peakForce) {
          force = peakForce;
          locked = 0;
        }
      }
      accelerationA = (pushA - force) / massA;
      accelerationB = (pushB - force) / massB;
      velocityA += h / 2 * accelerationA;
      velocityB += h / 2 * accelerationB;
      if (fabs(accelerationA) > peakA) peakA = fabs(accelerationA);
      if (fabs(accelerationB) > peakB) peakB = fabs(accelerationB);
      left -= h;
      time += h;
      if (meets) {
        mayMeet = 0;
        jumped = 1;
        if (commonVelocity < 0) commonVelocity = time;
        if (rigid) {
          double closing = velocityA + velocityB;
          velocityA -= closing * reducedMass / massA;
          velocityB -= closing * reducedMass / massB;
          locked = 1;
        }
      } else if (fires) {
        jumped = 1;
        nextFire = INFINITY;
        for (int k = 0; k < a->seats; k++) nextFire = fmin(nextFire, fire(&a->seat[k], time + 1e-9 * h0, positionA));
        for (int k = 0; k < b->seats; k++) nextFire = fmin(nextFire, fire(&b->seat[k], time + 1e-9 * h0, positionB));
      } else if (left <= 0) break;
    }
    a->position[i] = positionA;
    b->position[i] = positionB;
    a->cabinLoss[i] = lossA;
    b->cabinLoss[i] = lossB;
    for (int k = 0; k < a->seats; k++) record(&a->seat[k], i, positionA);
    for (int k = 0; k < b->seats; k++) record(&b->seat[k], i, positionB);
  }
  out->velocityA = velocityA;
  out->velocityB = velocityB;
  out->peakForce = peakForce;
  out->peakA = peakA;
  out->peakB = peakB;
  out->commonVelocity = commonVelocity;
  out->separation = separation;
}
