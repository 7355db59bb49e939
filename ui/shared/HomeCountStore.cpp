#include "ui/shared/HomeCountStore.h"

#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Session.h"

#include <QObject>

namespace kitround::ui {

std::string askWhyCounted(QWidget *window, const Problem &asked, const std::string &preset) {
    const auto why = Ask::line(window, QObject::tr("Were those set aside counted as well?"),
                               QObject::tr("%1\nWhy is it right all the same? The reason is kept with the "
                                           "count.")
                                   .arg(desk::words(asked)),
                               QString::fromStdString(preset));
    return why ? why->trimmed().toStdString() : std::string();
}

std::optional<Problem> storeHomeCount(QWidget *window, Session &session, const QString &what,
                                      const HomeCount &count, std::string &why) {
    const auto store = [&] {
        return session.write(what, [&](desk::Desk &d) { return d.countHome(count, why); });
    };
    auto problem = store();
    if (!problem || !desk::asksAboutSetAside(*problem))
        return problem;
    why = askWhyCounted(window, *problem, why);
    return why.empty() ? problem : store();
}

} // namespace kitround::ui
