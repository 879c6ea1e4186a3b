/** Said beside every number of a show pack that people outside this project will act on; each lesson on staging has its own besides, with the same numbers. C12 is of the bench, and only there. */
export const STAGING_CAUTIONS: Readonly<Record<string, string>> = {
  C1: "A planning aid, for discussion. It is no design and no risk assessment. Lifting, rigging, anchoring, release and site work are planned, checked and supervised by licensed, competent people under local law.",
  C2: "A crane is no drop tower. US 29 CFR 1926.1425 and 1926.1426 keep people out of the fall zone and limit the free fall of booms; local rules may ask for more. Use a release and a guided mass made for it.",
  C3: "The whole area round a tensioned line is dangerous, not a lane along it. A parted line flies past its anchorage by nearly the length that is left, and in an arc round a pulley. A painted lane gives false comfort.",
  C4: "Published least distances come from other work and may be too small here.",
  C5: "The steady pull is not the working pull: taken up suddenly it doubles, and slack makes it worse.",
  C6: "Strength needs a design factor, which the responsible engineer sets. Nothing here picks one.",
  C7: "Nobody is in line with, inside the angle of, or under any line, pulley, mass or vehicle path. Nobody goes in until those in charge say so.",
  C8: "Dummies only. No person in or near a moving vehicle, and no animals.",
  C9: "Fuel, fluids, gas struts, high-voltage batteries and unfired air bags are dealt with beforehand by qualified people, with cover against fire and spills.",
  C10: "A vehicle that misses runs on, and steering may be lost: physical stops take it. Stopping distances are an illustration.",
  C11: "Nothing starts unless every line of the hand-over sheet of this pack, and of the sheet of the day where the show has one, is complete, in date and signed. Anybody may call stop; after a stop everything is checked again.",
  C13: "One demonstration is one pair of vehicles at one speed and alignment. It does not rank types of vehicle.",
};

/** For the people to whom the pack is handed over; what a lesson asks of them stands with its own numbers. */
export const OPEN_QUESTIONS: Readonly<Record<string, readonly string[]>> = {
  "Lifting and rigging": ["Which line, hooks, pulleys and anchors, by whose calculation, with which design factor?", "What holds the falling mass before release, what stops it, and what if either fails?", "How is each release tested, and what follows if one does not open?"],
  "Site and zones": ["Which whole area is empty while a line is tight or a mass is up, and who says so?", "What physically stops a vehicle that comes too fast, too early, alone, or off its line?", "Who may be where, by name, and what is the word for stop?"],
  Vehicles: ["Where, when and by whom was the mass of each vehicle weighed as it runs on the day: ballast, fluids, dummies and cameras in it? What was changed since?", "Where does the centre of mass of each vehicle lie, along, across and up, and how was that found?", "Who drains and disconnects each vehicle, and who checks it?", "What does each tow point bear, in which direction, and by whose calculation?", "Who goes in first after the meeting, and what must be reported to them before?"],
  "Local rules": ["Which permits, notices and insurances does this place ask for?", "Who is the responsible person under local law, and when do they sign?"],
};
