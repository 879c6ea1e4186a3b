/** The course as a whole: nothing it promises is missing, and no lesson lies beside every way. */
import { expect, it } from "vitest";
import { readCourse } from "../../build/course.ts";
import { readLessons } from "../../build/readLessons.ts";

const lessons = readLessons("lessons");
const course = readCourse("shared/course.yaml");

it("every misconception of the course is dealt with by a lesson, and every lesson is on a way through", () => {
  const dealt = new Set(lessons.flatMap(({ front }) => front.misconceptions));
  expect(Object.keys(course.misconceptions).filter((id) => !dealt.has(id))).toEqual([]);
  const onWays = new Set(course.paths.flatMap(({ lessons: slugs }) => slugs));
  expect(lessons.map(({ slug }) => slug).filter((slug) => !onWays.has(slug))).toEqual([]);
});
