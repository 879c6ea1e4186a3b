import { testLessons } from "./everyLesson.ts";

testLessons(0, 2);
