# `cpack` in the build folder makes two Debian packages. Two, because the program runs with three small
# libraries, while its own libraries need the headers of Boost, Eigen and yaml-cpp to be of use.
# Configure with -DCMAKE_INSTALL_PREFIX=/usr, so that libraries go where Debian has them, and set
# SOURCE_DATE_EPOCH for the same bytes again: tests/run.sh package does both.

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/package)
set(CPACK_PACKAGE_VENDOR "thole developers")
set(CPACK_PACKAGE_CONTACT "thole developers <thole@example.invalid>")
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)

set(CPACK_COMPONENTS_ALL program development)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME thole)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
"checks home-made gear mounts on small open boats
Reads a description of a boat, of a mount for downriggers or rod holders and
of its gear, and tells whether the mount holds, what gives way first, what to
change, and how to set the gear so that it slips before something breaks.
Prints reports and writes sheets for the workshop.
.
A calculation is not an inspection: it defers to a marine professional.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libthole-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SHLIBDEPS OFF)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
  "thole (= ${PROJECT_VERSION}), libboost-dev (>= 1.74), libeigen3-dev (>= 3.4), libyaml-cpp-dev (>= 0.7)")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
"checks home-made gear mounts on small open boats (development files)
Static libraries, headers and the CMake package of thole, for programs that
read setups and assess mounts themselves.")

# What Debian asks of every package: the licence, and what changed.
file(READ LICENSE licence)
string(REGEX MATCH "Copyright[^\n]*" holder "${licence}")
string(REGEX REPLACE "^Copyright \\(c\\) " "" holder "${holder}")
string(REGEX REPLACE "^MIT License\n\nCopyright[^\n]*\n\n" "" terms "${licence}")
string(REGEX REPLACE "\n\n" "\n.\n" terms "${terms}")
string(STRIP "${terms}" terms)
string(REPLACE "\n" "\n " terms "${terms}")
file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/package/copyright @ONLY CONTENT
"Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: thole
Upstream-Contact: @CPACK_PACKAGE_CONTACT@

Files: *
Copyright: @holder@
License: Expat
 @terms@
")
configure_file(src/package/changelog.in package/changelog @ONLY)
# thole's own says .invalid, an address that reaches nobody, on purpose.
foreach(component IN ITEMS program development)
  string(TOUPPER ${component} upper)
  set(package ${CPACK_DEBIAN_${upper}_PACKAGE_NAME})
  set(doc ${CMAKE_INSTALL_DATADIR}/doc/${package})
  install(FILES ${PROJECT_BINARY_DIR}/package/copyright DESTINATION ${doc} COMPONENT ${component})
  install_compressed(${PROJECT_BINARY_DIR}/package/changelog changelog ${doc} ${component})
endforeach()

include(CPack)
