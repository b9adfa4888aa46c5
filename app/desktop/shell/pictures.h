// `runwright --pictures DIR [--garage FILE]`: every workspace and dialog as PNG, for the README, the tests and the eye.
#pragma once

namespace rw {

struct TaskArguments;

// DIR/NAME-light-1280x800.png and so on. Throws InputError where a file cannot be written.
int drawPictures(const TaskArguments& arguments);

} // namespace rw
