#include <ostream>
#include "cli/commands.h"
namespace gripline {
int practice(const PracticeOptions&, std::ostream&, std::ostream& err) { return refuse(err, "practice is not built yet"); }
int devices(const DevicesOptions&, std::ostream&, std::ostream& err) { return refuse(err, "devices is not built yet"); }
int grips(const GripsOptions&, std::ostream&, std::ostream& err) { return refuse(err, "grips is not built yet"); }
}
